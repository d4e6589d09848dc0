/** The components that are usable alone, on any page: importing this file defines them. */

export { type ChangeColours, changeColours, type Ground, type Tint } from "../colour/change-colours.ts";
export { type Preset, presets } from "../colour/presets.ts";
export { resolveSpan, type Span } from "../colour/resolve-span.ts";
export { type Theme, themes } from "../colour/themes.ts";
export * from "./change-legend/change-legend.ts";
export type { CellColours, CellTint } from "./fuel-grid/cell-colours.ts";
export { type AxesDisplay, type CellDisplay, ownDisplay } from "./fuel-grid/cell-display.ts";
export type { CellMark, MarkKind } from "./fuel-grid/cell-marks.ts";
export type { Shading } from "./fuel-grid/cell-shade.ts";
export * from "./fuel-grid/fuel-grid.ts";
export * from "./fuel-grid/grid-events.ts";
export type { CellBlock, CellPosition, GridSelection } from "./fuel-grid/grid-selection.ts";
export * from "./help-tip/help-tip.ts";
export * from "./line-chart/line-chart.ts";
export type { Stretch } from "./log-trace/draw-trace.ts";
export * from "./log-trace/log-trace.ts";
export { TraceBuilder, type TraceData, type TraceLane } from "./log-trace/trace-data.ts";
export * from "./number-field/number-field.ts";
export * from "./scheme-editor/scheme-editor.ts";
export * from "./slice-chart/slice-chart.ts";
export * from "./step-strip/step-strip.ts";
export * from "./table-map/table-map.ts";
export { pageTokens } from "./tokens.ts";
