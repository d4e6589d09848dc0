import type { EvidenceSummary, FuelTable } from "@fuelwright/table-core";
import { axesDisplay, figure } from "../../../store/display.ts";
import { duration } from "../../evidence/words.ts";
import { fixed } from "../../say-figure.ts";
import { type Block, heading, paragraph, points, type Section } from "./blocks.ts";
import type { CardContext } from "./card-context.ts";
import { evidenceMap, type Proof } from "./evidence-map.ts";
import { cellsAt, counted, sayReach } from "./say-cells.ts";
import { grid } from "./tables.ts";

/** Each state of proof with its letter on the map, and its words. */
const proofs: Readonly<Record<Proof, { readonly letter: string; readonly words: string }>> = {
  corrected: { letter: "C", words: "corrected by a log" },
  confirmed: { letter: "S", words: "seen by a log and left, within its doubt" },
  "changed-since": { letter: "x", words: "proven once, but changed by a later step, so not proven as it stands" },
  few: { letter: "f", words: "too few readings to say anything" },
  unseen: { letter: "·", words: "nothing seen, a calculation until a log has proved it" },
};

/** What the logs have proven of each table, and what they have not. */
export function evidenceSection(context: CardContext): Section {
  const { replay, job } = context;
  const summaries = job.steps.flatMap((step, at) =>
    step.kind === "apply-evidence" && replay.outcomes[at]?.status === "applied"
      ? [{ number: at + 1, table: step.table, evidence: step.settings.evidence as EvidenceSummary }]
      : [],
  );
  const meters = context.tables.filter((table) => context.meters(table));
  if (summaries.length === 0)
    return {
      id: "evidence",
      title: "Evidence",
      blocks: [
        paragraph(
          "None: no log has been brought in. Nothing in these tables is proven; every cell is a calculation, and is ridden as one.",
          "warns",
        ),
      ],
    };
  const blocks: Block[] = summaries.flatMap(({ number, table, evidence }) =>
    summaryBlocks(number, context.after.tables[table ?? ""]?.name, evidence),
  );
  return {
    id: "evidence",
    title: "Evidence: what it covers, and what it does not",
    blocks: [...blocks, ...meters.flatMap((table) => coverage(context, table))],
  };
}

function summaryBlocks(number: number, table: string | undefined, evidence: EvidenceSummary): Block[] {
  const { logs, used, usedSeconds, simulated, noise, delay, warnings } = evidence;
  const [sensor] = delay.sensors;
  const delayWords = sensor
    ? ` Delay ${fixed(sensor.total.value, 2)} s at ${figure(delay.reference.rpm, 0)} rpm${delay.found ? "" : ", which the log shows only roughly"}.`
    : "";
  return [
    paragraph(
      `Step ${number}${table ? `, ${table}` : ""}: ${logs.join(", ") || evidence.name}. ${figure(used, 0)} readings over ${duration(usedSeconds)} ` +
        `spoke for the table; each scatters by ${fixed(100 * noise, 1)} %.${delayWords}`,
    ),
    ...(simulated ? [paragraph("A made log: it says how the method works, nothing about an engine.", "warns")] : []),
    ...(warnings.length > 0
      ? [points(warnings.filter(({ code }) => code !== "simulated").map(({ text }) => ({ text })))]
      : []),
  ];
}

function coverage(context: CardContext, table: FuelTable): Block[] {
  const map = evidenceMap(context.replay, table);
  if (!map)
    return [
      heading(table.name),
      paragraph("No log speaks for this table: every cell of it is a calculation.", "warns"),
    ];
  const places = (wanted: Proof) => [...map.keys()].filter((at) => map[at] === wanted);
  const said = (Object.keys(proofs) as Proof[]).flatMap((proof) => {
    const cells = cellsAt(table, places(proof));
    if (cells.length === 0) return [];
    const share = figure((100 * cells.length) / map.length, 0);
    return [
      {
        text: `${proofs[proof].letter} ${counted(cells.length, "cell")} of ${figure(map.length, 0)} (${share} %), within ${sayReach(cells, table, context.preferences)}: ${proofs[proof].words}.`,
      },
    ];
  });
  const proven = map.filter((proof) => proof === "corrected" || proof === "confirmed").length;
  return [
    heading(`${table.name}: ${counted(proven, "cell")} of ${figure(map.length, 0)} proven`),
    points(said),
    ...gaps(context, table, map),
    grid(
      context,
      table,
      `${table.name}, what is proven`,
      map.map((proof) => ({ text: proofs[proof].letter })),
    ),
  ];
}

/** Rows and columns that no log has reached, by name. */
function gaps({ preferences }: CardContext, table: FuelTable, map: readonly Proof[]): Block[] {
  const axes = axesDisplay(table, preferences);
  const columns = table.rpm.breakpoints.length;
  const unseen = (at: number) => map[at] === "unseen" || map[at] === "few";
  const loads = table.load.breakpoints.filter((_, row) =>
    table.rpm.breakpoints.every((_, column) => unseen(row * columns + column)),
  );
  const rpms = table.rpm.breakpoints.filter((_, column) =>
    table.load.breakpoints.every((_, row) => unseen(row * columns + column)),
  );
  const list = (values: readonly number[], { show, decimals, unit }: (typeof axes)["rpm"]) =>
    `${values.map((value) => figure(show(value), decimals)).join(", ")} ${unit}`;
  const words = [
    rpms.length > 0 ? list(rpms, axes.rpm) : "",
    loads.length > 0 && table.load.quantity !== "single-row" ? list(loads, axes.load) : "",
  ].filter(Boolean);
  return words.length > 0 ? [paragraph(`Nothing proven anywhere at ${words.join("; nor at ")}.`, "warns")] : [];
}
