import type { SettingsOf, Step, StepKind } from "@fuelwright/table-core";
import type { TemplateResult } from "lit";
import type { Desk } from "../../../store/desk.ts";

/** What a form draws from, and how it says that settings changed. */
export interface FormContext<K extends StepKind> {
  readonly desk: Desk;
  readonly step: Extract<Step, { kind: K }>;
  readonly settings: SettingsOf<K>;
  /** Shows what the step would do with these settings. */
  change(settings: SettingsOf<K>): void;
  /** The operation's report, where the step applies. */
  readonly report: unknown;
}

/**
 * A kind of step as the card offers it: when it can start and with what, its fields, what it found.
 *
 * To offer a new kind, write one of these and put it into `forms/index.ts`.
 */
export interface StepForm<K extends StepKind = StepKind> {
  readonly kind: K;
  /** What the card is headed with and the list says. */
  readonly title: string;
  /** One plain sentence. */
  readonly about: string;
  readonly group: "cells" | "table" | "parts";
  /** Settings to start with, or a sentence that says why it can't start here. */
  start(desk: Desk): { readonly table?: string; readonly settings: SettingsOf<K> } | string;
  /** What has to be there before it can start. */
  prepare?(): Promise<void>;
  fields(context: FormContext<K>): TemplateResult;
  /** What is told about the outcome: results, warnings. */
  outcome?(context: FormContext<K>): TemplateResult | null;
  /** Whether it takes a region, which then follows the selection while the step is new. */
  readonly hasRegion?: boolean;
}

/** Keeps the form's own types inside: outside, a form of any kind. */
export const defineForm = <K extends StepKind>(form: StepForm<K>): StepForm => form as unknown as StepForm;
