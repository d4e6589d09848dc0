import { cylinderSteps } from "./cylinder-steps.ts";
import { editSteps } from "./edit-steps.ts";
import { evidenceSteps } from "./evidence-steps.ts";
import { injectorSteps } from "./injector-steps.ts";
import { partSteps } from "./part-steps.ts";
import { smoothSteps } from "./smooth-steps.ts";
import { tableSteps } from "./table-steps.ts";

/**
 * Every kind of step, in the order in which a tool may offer them.
 *
 * A kind is named after the file of its operation. To add one: write the operation, define its step in the file of its
 * family, and it is known to `applyStep`, to `readJob` and to the types.
 */
export const definitions = [
  ...editSteps,
  ...smoothSteps,
  ...tableSteps,
  ...cylinderSteps,
  ...injectorSteps,
  ...partSteps,
  ...evidenceSteps,
] as const;
