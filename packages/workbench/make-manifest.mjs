// Writes custom-elements.json: what the elements are, for editors and catalogues. With `-` it goes to standard output.
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { create, ts } from "@custom-elements-manifest/analyzer";
import { litPlugin } from "@custom-elements-manifest/analyzer/src/features/framework-plugins/lit/lit.js";

const file = (path) => fileURLToPath(new URL(path, import.meta.url));
const parse = (path) =>
  ts.createSourceFile(path, readFileSync(file(path), "utf8"), ts.ScriptTarget.ES2022, /* setParentNodes */ true);

const sources = readdirSync(file("src/elements"), { recursive: true })
  .map((path) => `src/elements/${path.replaceAll("\\", "/")}`)
  .filter((path) => path.endsWith(".ts") && !/\.test\.ts$|\/testing\/|\.styles\.ts$/.test(path))
  .sort();

/** The custom properties that every element takes from its page, with the comment at each in tokens.ts. */
function tokenProperties() {
  const found = [];
  let description = null;
  const visit = (node) => {
    if (ts.isVariableStatement(node)) description = null;
    if (ts.isPropertyAssignment(node)) {
      // One comment stands for those after it as well, up to the next.
      if (node.jsDoc) description = node.jsDoc[0].comment;
      if (description) found.push({ name: `--fw-${node.name.text}`, description });
    }
    ts.forEachChild(node, visit);
  };
  visit(parse("src/elements/tokens.ts"));
  return found;
}

/** Adds what an event carries: what its constructor keeps of its arguments, and the detail of a `CustomEvent`. */
const eventFields = {
  name: "event-fields",
  analyzePhase({ ts, node, moduleDoc }) {
    if (!ts.isClassDeclaration(node)) return;
    const declaration = moduleDoc.declarations.find(({ name }) => name === node.name?.text);
    if (!declaration || !isEvent(declaration)) return;
    const field = (name, type, description) => ({
      kind: "field",
      name,
      type: { text: type.getText().replace(/\s+/g, " ") },
      description,
      readonly: true,
    });
    const [detail] = node.heritageClauses[0].types[0].typeArguments ?? [];
    const kept = (node.members.find(ts.isConstructorDeclaration)?.parameters ?? []).filter(
      ({ modifiers }) => modifiers,
    );
    declaration.superclass = { name: declaration.superclass.name, package: "global:" };
    declaration.members = [
      ...(detail ? [field("detail", detail, "What the event tells.")] : []),
      ...kept.map(({ name, type, jsDoc }) => field(name.text, type, jsDoc?.[0].comment)),
    ];
  },
};

const byName = (a, b) => (a.name < b.name ? -1 : 1);
/** Where a module's built form lies in the package. */
const built = (path) => path.replace(/^\/?src\//, "lib/").replace(/\.ts$/, ".js");
const isEvent = ({ superclass }) => /^(Custom)?Event$/.test(superclass?.name ?? "");

/** What of a class concerns somebody who uses it: no private parts, nothing of the base class. */
function openClass(declaration, tokens) {
  const { members = [], events, cssProperties = [], ...rest } = declaration;
  const open = members.filter(
    (member) =>
      !member.static && !/^(private|protected)$/.test(member.privacy) && !/^form\w+Callback$/.test(member.name),
  );
  return {
    ...rest,
    members: open,
    // The analyzer also lists each place that dispatches one, under the name of its first argument.
    ...(events && { events: events.filter(({ name }) => name?.startsWith("fw-")).sort(byName) }),
    ...(declaration.customElement && { cssProperties: [...cssProperties, ...tokens] }),
  };
}

function makeManifest() {
  const whole = create({
    modules: sources.map(parse),
    plugins: [...litPlugin(), eventFields],
    context: { dev: false },
  });
  const tokens = tokenProperties();
  const modules = whole.modules.flatMap((module) => {
    const declarations = module.declarations.filter((each) => each.customElement || isEvent(each));
    if (declarations.length === 0) return [];
    const names = new Set(declarations.map(({ name }) => name));
    const exported = (module.exports ?? []).filter(({ declaration }) => names.has(declaration?.name));
    return [
      {
        ...module,
        path: built(module.path),
        declarations: declarations.map((each) => openClass(each, tokens)),
        exports: exported.map((each) => ({
          ...each,
          declaration: { ...each.declaration, module: built(each.declaration.module ?? module.path) },
        })),
      },
    ];
  });
  return `${JSON.stringify({ ...whole, modules }, null, 2)}\n`;
}

if (process.argv[2] === "-") process.stdout.write(makeManifest());
else writeFileSync(file("custom-elements.json"), makeManifest());
