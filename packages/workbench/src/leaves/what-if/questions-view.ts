import { FuelwrightError } from "@fuelwright/table-core";
import { html, nothing, type TemplateResult } from "lit";
import { figure } from "../../store/display.ts";
import { type Answer, type Question, questions } from "./questions.ts";
import type { Scene } from "./trial.ts";

/** A dozen small questions; each answer is worked out when it is asked for. */
export function questionsView(scene: Scene): TemplateResult {
  const { trial, own, change } = scene;
  const answered = questions.filter(({ id }) => trial.answers[id] !== undefined);
  const right = answered.filter((question) => answerTo(question, scene)?.right === trial.answers[question.id]);
  return html`<section class="sheet" aria-label="Questions"><h2>Small questions</h2>
    <p class="quiet">Answers are worked out at your point, ${figure(own.rpm, 0)} rpm and load ${figure(own.load, 1)} ${scene.loadUnit}, with the job's own
      injectors. ${
        answered.length === 0
          ? ""
          : html`${right.length} of ${answered.length} so far. <button class="word" @click=${() => change({ answers: {} })}>Begin again</button>`
      }</p>
    <div class="questions">${questions.map((question, at) => one(question, at, scene))}</div>
  </section>`;
}

function one(question: Question, at: number, scene: Scene): TemplateResult {
  const { trial, change } = scene;
  const chosen = trial.answers[question.id];
  const answer = chosen === undefined ? null : answerTo(question, scene);
  const ask = question.ask(scene);
  return html`<div class="question" role="group" aria-label=${ask}><h3>${at + 1}. ${ask}</h3>
    <div class="do">${question.choices.map(
      (choice, i) => html`<button aria-pressed=${chosen === i} class=${answer?.right === i ? "right" : ""}
        @click=${() => change({ answers: { ...trial.answers, [question.id]: i } })}>${choice}</button>`,
    )}</div>
    <div role="status">${
      answer
        ? html`<p>${chosen === answer.right ? "Yes." : `No: ${question.choices[answer.right]}.`} ${answer.because}</p>`
        : chosen === undefined
          ? nothing
          : html`<p>This can't be worked out with the figures of the job.</p>`
    }</div></div>`;
}

function answerTo(question: Question, scene: Scene): Answer | null {
  try {
    return question.answer(scene);
  } catch (error) {
    if (!(error instanceof FuelwrightError)) throw error;
    return null;
  }
}
