import type { Desk } from "../../store/desk.ts";
import type { Asked } from "./asked.ts";
import type { BuildEditor } from "./build-editor.ts";

/** What the parts of the leaf draw from. */
export interface BuildContext {
  readonly desk: Desk;
  readonly editor: BuildEditor;
  readonly asked: Asked;
}
