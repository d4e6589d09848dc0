import { nothing } from "lit";
import type { BuildContext } from "./context.ts";
import { engineFields, engineWords, powerWords } from "./engine-fields.ts";
import { fuelFields, fuelWords } from "./fuel-fields.ts";
import { injectorPart, injectorWords } from "./injector-part.ts";
import { intakePart, intakeWords } from "./intake-part.ts";
import type { PartRow } from "./part-row.ts";
import { placeFields, placeWords } from "./place-fields.ts";
import { pumpPart, pumpWords } from "./pump-part.ts";
import { railFields, railWords } from "./rail-fields.ts";
import { storagePart, storageWords } from "./storage-part.ts";
import { verdictOf } from "./verdict.ts";

/** The parts list, from the engine to the controller. */
export const partRows = (context: BuildContext): readonly PartRow[] => [
  {
    id: "engine",
    name: "Engine",
    what: engineWords(context),
    verdict: powerWords(context),
    body: () => engineFields(context),
  },
  { id: "fuel", name: "Fuel", what: fuelWords(context), verdict: nothing, body: () => fuelFields(context) },
  {
    id: "place",
    name: "Place and battery",
    what: placeWords(context),
    verdict: nothing,
    body: () => placeFields(context),
  },
  {
    id: "rail",
    name: "Rail and regulator",
    what: railWords(context),
    verdict: nothing,
    body: () => railFields(context),
  },
  {
    id: "injectors",
    name: "Injectors",
    what: injectorWords(context),
    verdict: verdictOf(context, "injectors"),
    body: () => injectorPart(context),
  },
  {
    id: "pump",
    name: "Pump",
    what: pumpWords(context),
    verdict: verdictOf(context, "pump"),
    body: () => pumpPart(context),
  },
  {
    id: "intake",
    name: "Intake",
    what: intakeWords(context),
    verdict: verdictOf(context, "intake"),
    body: () => intakePart(context),
  },
  {
    id: "storage",
    name: "Controller storage",
    what: storageWords(context),
    verdict: verdictOf(context, "storage"),
    body: () => storagePart(context),
  },
];
