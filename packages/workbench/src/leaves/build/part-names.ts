import type { PartId } from "@fuelwright/table-core";

/** What the parts with a verdict are called. */
export const partNames: Readonly<Record<PartId, string>> = {
  injectors: "Injectors",
  pump: "Pump",
  intake: "Intake",
  storage: "Controller storage",
};
