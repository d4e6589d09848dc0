import type { CDPSession, Page } from "playwright";
import { expect } from "vitest";

/** What has the focus, by the role and name that the browser tells to assistive technology. */
export interface Focused {
  readonly role: string;
  readonly name: string;
}

/** The page itself has the focus: past its last stop, or because what had it is gone. */
const nothing: Focused = { role: "page", name: "" };

const deepest = `(() => {
  let element = document.activeElement;
  while (element?.shadowRoot?.activeElement) element = element.shadowRoot.activeElement;
  return element === document.body ? null : element;
})()`;

/** More stops than any leaf has. */
const MOST_TABS = 160;

/** Two hands on a keyboard, and nothing else: no pointer, no focus but by keys. */
export class Hands {
  private constructor(
    private readonly page: Page,
    private readonly session: CDPSession,
  ) {}

  static async on(page: Page): Promise<Hands> {
    return new Hands(page, await page.context().newCDPSession(page));
  }

  async focused(): Promise<Focused> {
    const { result } = await this.session.send("Runtime.evaluate", { expression: deepest });
    if (!result.objectId) return nothing;
    const { nodes } = await this.session.send("Accessibility.getPartialAXTree", {
      objectId: result.objectId,
      fetchRelatives: false,
    });
    await this.session.send("Runtime.releaseObject", { objectId: result.objectId });
    return { role: nodes[0]?.role?.value ?? "none", name: nodes[0]?.name?.value ?? "" };
  }

  async press(...keys: readonly string[]): Promise<void> {
    for (const key of keys) await this.page.keyboard.press(key);
  }

  async type(text: string | number): Promise<void> {
    await this.page.keyboard.type(String(text));
  }

  /** Tabs on until what has the focus is named so; every stop on the way has a role and a name. */
  async tabTo(role: string, name: string | RegExp, key: "Tab" | "Shift+Tab" = "Tab"): Promise<void> {
    const passed: string[] = [];
    for (let stop = 0; stop < MOST_TABS; stop++) {
      await this.page.keyboard.press(key);
      const focused = await this.focused();
      if (focused === nothing) continue;
      expect(focused.name, `a stop without a name after ${passed.at(-1)}: ${focused.role}`).not.toBe("");
      if (focused.role === role && (typeof name === "string" ? focused.name === name : name.test(focused.name))) return;
      passed.push(`${focused.role} ${focused.name}`);
    }
    throw new Error(`No ${role} named ${name} can be reached by ${key}; passed ${passed.join(" · ")}`);
  }

  async enter(role: string, name: string | RegExp): Promise<void> {
    await this.tabTo(role, name);
    await this.page.keyboard.press("Enter");
  }

  /** Tabs to a field, whose text is then selected, and types over it. */
  async fill(name: string | RegExp, text: string | number): Promise<void> {
    await this.tabTo("textbox", name);
    await this.type(text);
  }
}
