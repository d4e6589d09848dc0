// Sorts the reference by the folders of the source, in the order in which they build on one another.
import { Comment, CommentTag, Converter, ReflectionKind } from "typedoc";

/** What each folder is called in the reference; `typedoc.json` gives the same names their order. */
const names = {
  values: "Values",
  lookup: "Lookup",
  cells: "Edits",
  fuel: "Fuel and injectors",
  air: "Air",
  build: "Build",
  evidence: "Evidence",
  plots: "Plots",
  learn: "Learn",
  job: "Job and steps",
  exchange: "Text in and out",
  numeric: "Numeric",
};

/** @param {import("typedoc").Application} app */
export function load(app) {
  app.converter.on(Converter.EVENT_RESOLVE_BEGIN, (context) => {
    for (const reflection of context.project.children ?? []) {
      const [at] = context.getSymbolFromReflection(reflection)?.declarations ?? [];
      const [, folder] = /\/src\/(\w+)\//.exec(at?.getSourceFile().fileName ?? "") ?? [];
      const name = names[folder];
      if (!name) throw new Error(`by-folder: ${reflection.name} stands in ${folder}, which has no name here; add it`);
      const said = reflection.kindOf(ReflectionKind.FunctionOrMethod) ? reflection.signatures : [reflection];
      for (const each of said) {
        each.comment ??= new Comment();
        each.comment.blockTags.push(new CommentTag("@category", [{ kind: "text", text: name }]));
      }
    }
  });
}
