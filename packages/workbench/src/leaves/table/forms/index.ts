import type { StepKind } from "@fuelwright/table-core";
import { cylinderForms } from "./cylinder-forms.ts";
import { editForms } from "./edit-forms.ts";
import { evidenceForm } from "./evidence-form.ts";
import { injectorForm } from "./injector-form.ts";
import { mixtureForm } from "./mixture-form.ts";
import { convertForm, curveForm, displacementForm, fuelForm, intakeForm } from "./part-forms.ts";
import { extendForm, rebinForm } from "./rebin-form.ts";
import { smoothForm } from "./smooth-form.ts";
import type { StepForm } from "./step-form.ts";
import { blendForm, expressionForm, quantiseForm } from "./table-forms.ts";

/** What the card offers, in its order. */
export const forms: readonly StepForm[] = [
  injectorForm,
  mixtureForm,
  fuelForm,
  displacementForm,
  intakeForm,
  curveForm,
  ...editForms,
  smoothForm,
  expressionForm,
  blendForm,
  rebinForm,
  extendForm,
  quantiseForm,
  evidenceForm,
  convertForm,
  ...cylinderForms,
];

/** The form of a kind; null for kinds that are made by typing or pasting alone. */
export const formOf = (kind: StepKind): StepForm | null => forms.find((form) => form.kind === kind) ?? null;

export const groups = [
  ["parts", "Parts and mixture"],
  ["cells", "Cells selected"],
  ["table", "The whole table"],
] as const;
