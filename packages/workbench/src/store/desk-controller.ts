import type { ReactiveController, ReactiveControllerHost } from "lit";
import type { Desk } from "./desk.ts";

/** Draws its element again after every change on the desk. */
export class DeskController implements ReactiveController {
  private stop: (() => void) | null = null;

  constructor(
    private readonly host: ReactiveControllerHost,
    private readonly desk: () => Desk,
  ) {
    host.addController(this);
  }

  hostConnected(): void {
    this.stop = this.desk().listen(() => this.host.requestUpdate());
  }

  hostDisconnected(): void {
    this.stop?.();
    this.stop = null;
  }
}
