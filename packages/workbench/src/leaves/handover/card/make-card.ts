import type { Card, Sentence } from "./blocks.ts";
import type { CardContext } from "./card-context.ts";
import { cautionsSection } from "./cautions.ts";
import { ceilingsSection, firstToGive } from "./ceilings.ts";
import { evidenceSection } from "./evidence.ts";
import { firstStartSection } from "./first-start.ts";
import { partsSection } from "./parts.ts";
import { picturesSection } from "./pictures.ts";
import { asSentence, counted } from "./say-cells.ts";
import { signOffSection } from "./sign-off.ts";
import { stepsSection } from "./steps.ts";
import { tablesSection } from "./tables.ts";

/** The handover card of a job as it stands after all its steps: plain data, ready to be shown, printed or written. */
export function makeCard(context: CardContext): Card {
  const { job } = context;
  return {
    title: job.name,
    running: `${job.name}, handover card${job.invented ? ", invented figures" : ""}`,
    lead: leadOf(context),
    sections: [
      partsSection(context),
      stepsSection(context),
      ceilingsSection(context),
      evidenceSection(context),
      picturesSection(context),
      tablesSection(context),
      firstStartSection(context),
      cautionsSection(),
      signOffSection(),
    ].filter(({ blocks }) => blocks.length > 0),
  };
}

/** What the reader should know before anything else. */
function leadOf(context: CardContext): Sentence[] {
  const { job, replay, settings, tables } = context;
  const applied = replay.outcomes.filter(({ status }) => status === "applied").length;
  const left = job.steps.length - applied;
  const reports = tables.filter((table) => context.meters(table)).map((table) => context.ceilingsOf(table).report);
  const lean = reports.reduce((sum, report) => sum + (report?.leaner.length ?? 0), 0);
  return [
    ...(job.invented
      ? [{ text: "Every figure on this card is invented: for trying out, not for an engine.", tone: "warns" } as const]
      : []),
    ...(job.about ? [{ text: asSentence(job.about), tone: "plain" } as const] : []),
    {
      text:
        `Made on ${settings.day}: ${counted(tables.length, "table")}, ${counted(applied, "step")} carried out` +
        `${left > 0 ? `, ${left} off or passed over` : ""}. ${reports[0] ? firstToGive(reports[0]) : ""}`.trim(),
      tone: "quiet",
    },
    ...(lean > 0
      ? [
          {
            text: `Lean under load in ${counted(lean, "cell")}: the hardware can't give the fuel that is asked. See Ceilings before it is run.`,
            tone: "warns",
          } as const,
        ]
      : []),
  ];
}
