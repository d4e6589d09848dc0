import type { FuelTable, JobState, Step, StepOutcome } from "@fuelwright/table-core";
import { sayRefusal } from "../../../store/say-refusal.ts";
import { sayStep } from "../../../store/say-step.ts";
import { type Point, paragraph, points, type Section, type Sentence } from "./blocks.ts";
import type { CardContext } from "./card-context.ts";
import { compareWithSource } from "./compared.ts";
import { extremes } from "./extremes.ts";
import { asSentence, counted, signedPercent } from "./say-cells.ts";
import { sayReport } from "./step-reports.ts";
import { displayOf } from "./tables.ts";

/** What was done, in order: each step as a sentence, with its reason, what became of it and what it reports. */
export function stepsSection(context: CardContext): Section {
  const { job, replay } = context;
  const list = job.steps.map((step, at) => {
    const { outcomes, states } = replay;
    return stepPoint(context, step, outcomes[at]!, states[at]!, states[at + 1]!);
  });
  return {
    id: "steps",
    title: "What was done, and why",
    blocks:
      list.length > 0
        ? [points(list, 1)]
        : [paragraph("Nothing yet. Each change on the Table leaf becomes a step, with its reason as its note.")],
  };
}

function stepPoint(context: CardContext, step: Step, outcome: StepOutcome, before: JobState, after: JobState): Point {
  const { title, detail } = sayStep(step, context.job, context.preferences);
  const name = step.table === undefined ? undefined : (after.tables[step.table] ?? before.tables[step.table])?.name;
  const several = Object.keys(after.tables).length > 1;
  const text = asSentence([title, detail, several && name ? `in “${name}”` : ""].filter(Boolean).join(", "));
  const reason: Sentence = step.note
    ? { text: `Why: ${asSentence(step.note)}`, tone: "plain" }
    : { text: "No reason was written down.", tone: "quiet" };
  return { text, more: [reason, ...became(context, step, outcome, before, after)] };
}

function became(
  context: CardContext,
  step: Step,
  outcome: StepOutcome,
  before: JobState,
  after: JobState,
): readonly Sentence[] {
  switch (outcome.status) {
    case "off":
      return [{ text: "Switched off: it is not in the tables handed over.", tone: "warns" }];
    case "passed-over":
      return [
        {
          text: `Passed over, and not in the tables handed over: ${asSentence(whyNot(step, outcome))}`,
          tone: "warns",
        },
      ];
    default:
      return [
        ...Object.values(after.tables)
          .filter((table) => table.cells !== before.tables[table.id]?.cells)
          .map((table): Sentence => ({ text: changeSentence(context, table, before), tone: "quiet" })),
        ...sayReport(context, step, outcome.report, after),
      ];
  }
}

/** How many cells of a table a step changed, and by how much. */
function changeSentence(context: CardContext, table: FuelTable, { tables }: JobState): string {
  const before = tables[table.id];
  const size = `${table.rpm.breakpoints.length} × ${table.load.breakpoints.length}`;
  if (!before) return `${table.name}: a new table of ${size} cells.`;
  const compared = compareWithSource(table, before, displayOf(context, table));
  if (!compared) return `${table.name}: another kind of table now.`;
  if (!compared.sameAxes) return `${table.name}: ${size} cells now.`;
  if (compared.changed === 0) return `${table.name}: no cell changed.`;
  const known = compared.percent.filter(
    (value): value is number => value !== null && Number.isFinite(value) && value !== 0,
  );
  const [low, high] = extremes(known);
  const span =
    known.length === 0
      ? ""
      : low === high
        ? `, ${signedPercent(low)}`
        : `, ${signedPercent(low)} to ${signedPercent(high)}`;
  return `${table.name}: ${counted(compared.changed, "cell")} changed${span}.`;
}

/** The library's refusal, which begins with the kind of the step. */
const whyNot = ({ kind }: Step, { reason }: StepOutcome) =>
  reason ? sayRefusal(reason.message.replace(`${kind}: `, "")) : "it does not apply here";
