import type {
  EvidenceFit,
  EvidenceSummary,
  FitProgress,
  FuelTable,
  Gate,
  GatePreview,
  InjectorSpec,
  LogColumn,
  LogDialect,
  LogSummary,
  ReadLogOptions,
  ReadProgress,
  RidePlan,
  SimulatedLogOptions,
  TipInSuggestion,
} from "@fuelwright/table-core";
import type { TraceData, TraceLane } from "../elements/log-trace/trace-data.ts";

/** What a person may say of a log beside what is recognised in it. */
export type ReadChoices = Pick<ReadLogOptions, "columns" | "gaugeAfr" | "hertz" | "decimal" | "delimiter">;

/** Where a log comes from: a file on this machine, or a ride that is made up. */
export type LogSource = (
  | { readonly kind: "file"; readonly file: File }
  | { readonly kind: "made"; readonly ride: SimulatedLogOptions }
) & { readonly name: string; readonly choices: ReadChoices };

/** What gates remove of a log, and where: 1 in the stretches of the trace of which something is removed, 0 elsewhere. */
export interface CountedGates extends GatePreview {
  readonly removed: TraceLane;
}

/** A log read once from end to end. */
export interface LogReading {
  readonly columns: readonly LogColumn[];
  readonly dialect: LogDialect;
  readonly simulated: boolean;
  readonly summary: LogSummary;
  readonly trace: TraceData;
  readonly gates: CountedGates;
  /** Lambda sensors it holds, from 1. */
  readonly sensors: readonly number[];
}

/** A fit, and what is told of it. */
export interface FittedEvidence {
  readonly fit: EvidenceFit;
  readonly summary: EvidenceSummary;
  readonly rides: RidePlan;
  readonly tipIn: TipInSuggestion | null;
}

/** What is to be fitted, as it can be sent to a worker. */
export interface FitTask {
  readonly kind: "fit";
  readonly sources: readonly LogSource[];
  readonly table: Pick<FuelTable, "rpm" | "load"> & Partial<Pick<FuelTable, "id" | "name" | "cylinder">>;
  readonly gates: readonly Gate[];
  readonly sensors: readonly number[] | null;
  /** Whether each sensor has a fit of its own. */
  readonly apart: boolean;
  /** The mixture wished for, where a log has no column for it. */
  readonly target: FuelTable | null;
  /** What turns pulses into effective ones; null: the usual dead time. */
  readonly injectors: { readonly spec: InjectorSpec; readonly pressureKpa: number } | null;
  readonly film: boolean;
}

/** What the worker does: each task with what comes of it. */
export interface Tasks {
  read: {
    readonly task: { readonly kind: "read"; readonly source: LogSource; readonly gates: readonly Gate[] };
    readonly result: LogReading;
  };
  count: {
    readonly task: { readonly kind: "count"; readonly source: LogSource; readonly gates: readonly Gate[] };
    readonly result: CountedGates;
  };
  fit: { readonly task: FitTask; readonly result: readonly FittedEvidence[] };
}
export type TaskKind = keyof Tasks;
export type Task = Tasks[TaskKind]["task"];

/** How far a task has come: bytes of a log, or the fit's own words. */
export type TaskProgress = ({ readonly of: "log" } & ReadProgress) | ({ readonly of: "fit" } & FitProgress);

/** From the page to the worker. */
export type Asked = { readonly id: number; readonly task: Task } | { readonly id: number; readonly cancel: true };

/** From the worker to the page. */
export type Told = { readonly id: number } & (
  | { readonly progress: TaskProgress }
  | { readonly done: Tasks[TaskKind]["result"] }
  | { readonly refused: { readonly code: string; readonly message: string; readonly details: object } }
);
