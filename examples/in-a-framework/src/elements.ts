// Gives every element its properties and typed events in JSX: `<fw-fuel-grid table={…} onfw-cells-typed={…}>`.
import type {} from "@fuelwright/workbench";
import type { HTMLAttributes } from "preact";

/** The handlers of the elements' events; all of them start with `fw-`. */
type Handlers = {
  [Name in keyof HTMLElementEventMap as Name extends `fw-${string}` ? `on${Name}` : never]?: (
    event: HTMLElementEventMap[Name],
  ) => void;
};

type Properties<Of extends HTMLElement> = HTMLAttributes<Of> & Handlers & Partial<Omit<Of, keyof HTMLElement>>;

type Elements = {
  [Tag in keyof HTMLElementTagNameMap as Tag extends `fw-${string}` ? Tag : never]: Properties<
    HTMLElementTagNameMap[Tag]
  >;
};

declare module "preact" {
  namespace JSX {
    interface IntrinsicElements extends Elements {}
  }
}
