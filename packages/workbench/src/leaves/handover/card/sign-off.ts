import { paragraph, type Section } from "./blocks.ts";

/** Who answers for it, by hand. */
export const signOffSection = (): Section => ({
  id: "sign-off",
  title: "Sign-off",
  blocks: [
    paragraph(
      "Signed for what is on this card: the parts are fitted as listed, and the tables are in the controller.",
      "quiet",
    ),
    {
      kind: "lines",
      labels: [
        "Done by",
        "Date",
        "Checked by",
        "Date",
        "First start witnessed by",
        "Date",
        "Remarks",
        "Machine, mileage or hours",
      ],
    },
  ],
});
