import { FuelwrightError, type Job, prepareExpressions, readJob, writeJob } from "@fuelwright/table-core";
import { fileName, offerFile, pickFile, type SavedFile, saveFile } from "../leaves/files.ts";
import { branchJob } from "../store/commands.ts";
import { demoJob, emptyJob } from "../store/demo-job.ts";
import type { Desk } from "../store/desk.ts";
import { startHistory } from "../store/history.ts";
import { Keeper, type KeptJob } from "../store/keeping.ts";
import { plainRefusal } from "../store/plain-refusal.ts";

const LAST_OPEN = "fuelwright-open";
const CHANNEL = "fuelwright-kept";

/**
 * Which job is open, and that it is kept: storage, the lock that lets one tab write, files.
 *
 * The first tab that opens a job holds its lock; another tab reads along and takes over when the lock is let go.
 */
export class Keeping {
  private keeper: Keeper | null = null;
  private letGo: (() => void) | null = null;
  private stopWaiting: AbortController | null = null;
  private file: SavedFile | null = null;
  private readonly channel = new BroadcastChannel(CHANNEL);

  constructor(
    private readonly desk: Desk,
    private readonly shelf: Pick<Storage, "getItem" | "setItem"> | null,
  ) {
    this.channel.onmessage = ({ data }) => {
      if (this.desk.readOnly !== null && data === this.desk.job.id) void this.readAgain();
    };
  }

  /** Opens what was open last, or keeps the demo job as the first. */
  async start(): Promise<void> {
    try {
      this.keeper = await Keeper.open((state) => {
        this.desk.setKeeping(state);
        if (state.kind === "kept") this.channel.postMessage(this.desk.job.id);
      });
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      this.desk.setKeeping({ kind: "failed", why: `This browser gives the page no storage (${why}).` });
      return;
    }
    const kept = await this.keeper.list();
    const last = this.shelf?.getItem(LAST_OPEN);
    const id = kept.find((job) => job.id === last)?.id ?? kept[0]?.id;
    const opened = id !== undefined && (await this.open(id));
    // Not before: what the page starts with would be kept in the place of what is here.
    this.desk.keepWith(this.keeper);
    if (!opened) await this.adopt(this.desk.job);
    // Asked once: a browser that agrees does not clear the storage when space runs short.
    void navigator.storage?.persist?.();
  }

  async list(): Promise<KeptJob[]> {
    return (await this.keeper?.list()) ?? [];
  }

  /** Opens a job kept on this machine. Returns whether it could be read; if not, why has been told. */
  async open(id: string): Promise<boolean> {
    await this.desk.keepNow();
    const before = this.desk.job.id;
    await this.takeLock(id);
    try {
      const history = await this.keeper?.load(id);
      if (!history) {
        await this.takeLock(before);
        this.desk.say("That job is no longer kept here.", "refused");
        return false;
      }
      await prepareFor(history.entries[history.at]!.job);
      this.desk.openHistory(history);
      this.desk.setKeeping({ kind: "kept", time: new Date(history.entries.at(-1)!.time) });
      this.begin(id);
      return true;
    } catch (error) {
      if (!(error instanceof FuelwrightError)) throw error;
      // The job that stays open must not be left without its lock.
      await this.takeLock(before);
      this.desk.say(`What is kept of that job can't be read: ${plainRefusal(error.message)}`, "refused");
      return false;
    }
  }

  /** Opens a job that is new here, and keeps it. */
  async adopt(job: Job): Promise<void> {
    const taken = new Set((await this.list()).map(({ id }) => id));
    const id = freeId(job.id, taken);
    await this.takeLock(id);
    await prepareFor(job);
    this.desk.openHistory(startHistory({ ...job, id }, "Open"));
    this.begin(id);
    await this.desk.keepNow();
  }

  /** Another job is open: remembered for the next time, and not written to the file of the one before. */
  private begin(id: string): void {
    this.file = null;
    try {
      this.shelf?.setItem(LAST_OPEN, id);
    } catch {
      // Then the job changed last is opened next time.
    }
  }

  newJob(): Promise<void> {
    location.hash = "table";
    return this.adopt(emptyJob(this.desk.preferences.scheme));
  }

  /** Opens the demo job as it was left here, or a new one. */
  async openDemo(): Promise<void> {
    const { id } = demoJob();
    if (!(await this.list()).some((kept) => kept.id === id) || !(await this.open(id))) await this.adopt(demoJob());
  }

  /** A job of its own from the state after a step. */
  branch(after: string): Promise<void> {
    return this.adopt(branchJob(this.desk.job, after, this.desk.job.id));
  }

  /** Goes on in a copy, as when another tab holds the job. */
  saveCopy(): Promise<void> {
    return this.adopt({ ...this.desk.job, name: `${this.desk.job.name}, copy`.slice(0, 200) });
  }

  async remove(id: string): Promise<void> {
    await this.keeper?.remove(id);
    if (id !== this.desk.job.id) return;
    const [next] = await this.list();
    await (next ? this.open(next.id) : this.newJob());
  }

  /** Saves to the file chosen last, or to one chosen now where the browser allows; else as a download. */
  async save(): Promise<void> {
    const { job } = this.desk;
    this.file = await saveFile(`${fileName(job.name)}.json`, writeJob(job), "application/json", this.file);
    if (this.file) this.desk.say(`Saved to ${this.file.name}.`);
  }

  download(): void {
    const { job } = this.desk;
    offerFile(`${fileName(job.name)}.json`, writeJob(job), "application/json");
  }

  /** Opens a job from a file; a file that is no job is told, and the open job stays. */
  async openFile(): Promise<void> {
    const file = await pickFile(".json,application/json");
    if (file) await this.take(file);
  }

  async take(file: File): Promise<void> {
    try {
      await this.adopt(readJob(await file.text()));
      this.desk.say(`${file.name} opened.`);
    } catch (error) {
      if (!(error instanceof FuelwrightError)) throw error;
      this.desk.say(`${file.name}: ${plainRefusal(error.message)}`, "refused");
    }
  }

  private async takeLock(id: string): Promise<void> {
    this.letGo?.();
    this.letGo = null;
    this.stopWaiting?.abort();
    const name = `fuelwright-job-${id}`;
    const got = await new Promise<boolean>((resolve) => {
      void navigator.locks.request(name, { ifAvailable: true }, (lock) => {
        resolve(lock !== null);
        return lock ? this.hold() : undefined;
      });
    });
    this.desk.setReadOnly(
      got
        ? null
        : "This job is open in another tab; here it can be read. It can be changed here once that tab lets go.",
    );
    if (got) return;
    const waiting = new AbortController();
    this.stopWaiting = waiting;
    navigator.locks
      .request(name, { signal: waiting.signal }, async () => {
        await this.readAgain();
        this.desk.setReadOnly(null);
        this.desk.say("The other tab let go: the job can be changed here now.");
        await this.hold();
      })
      .catch((error: unknown) => {
        if (!(error instanceof DOMException && error.name === "AbortError")) throw error;
      });
  }

  private hold(): Promise<void> {
    return new Promise((resolve) => {
      this.letGo = resolve;
    });
  }

  private async readAgain(): Promise<void> {
    const history = await this.keeper?.load(this.desk.job.id);
    if (!history) return;
    await prepareFor(history.entries[history.at]!.job);
    this.desk.openHistory(history);
  }
}

/** Steps with expressions can be carried out only once their parser is there. */
async function prepareFor(job: Job): Promise<void> {
  if (job.steps.some(({ kind }) => kind === "evaluate-cells")) await prepareExpressions();
}

function freeId(wished: string, taken: ReadonlySet<string>): string {
  if (!taken.has(wished)) return wished;
  const stem = wished.replace(/-\d+$/, "");
  let number = 2;
  while (taken.has(`${stem}-${number}`)) number++;
  return `${stem}-${number}`;
}
