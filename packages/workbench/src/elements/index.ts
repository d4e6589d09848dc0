/** The components that are usable alone, on any page: importing this file defines them. */
export * from "./change-legend/change-legend.ts";
export * from "./fuel-grid/fuel-grid.ts";
export * from "./fuel-grid/grid-events.ts";
export * from "./slice-chart/slice-chart.ts";
