/** A file on the disk that the browser lets the page write again. */
export interface SavedFile {
  readonly name: string;
  createWritable(): Promise<{ write(text: string): Promise<void>; close(): Promise<void> }>;
}

interface SavePicker {
  showSaveFilePicker?(options: {
    suggestedName: string;
    types: { accept: Record<string, string[]> }[];
  }): Promise<SavedFile>;
}

/** Offers text as a download. */
export function offerFile(name: string, content: string | Blob, type: string): void {
  const url = URL.createObjectURL(content instanceof Blob ? content : new Blob([content], { type }));
  const link = Object.assign(document.createElement("a"), { href: url, download: name });
  link.click();
  // The download reads the address after this turn.
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}

/**
 * Writes text to `known`, or to a file that the person picks; where the browser can't, as a download.
 *
 * @returns the file, to be given as `known` next time; null when it was a download or was called off
 */
export async function saveFile(
  name: string,
  text: string,
  type: string,
  known: SavedFile | null,
): Promise<SavedFile | null> {
  const picker = (window as SavePicker).showSaveFilePicker;
  if (!known && !picker) {
    offerFile(name, text, type);
    return null;
  }
  try {
    const extension = name.slice(name.lastIndexOf("."));
    const file =
      known ?? (await picker!.call(window, { suggestedName: name, types: [{ accept: { [type]: [extension] } }] }));
    const stream = await file.createWritable();
    await stream.write(text);
    await stream.close();
    return file;
  } catch (error) {
    if (error instanceof DOMException && error.name === "AbortError") return known;
    offerFile(name, text, type);
    return null;
  }
}

/** A file that the person picks, or null. */
export function pickFile(accept: string): Promise<File | null> {
  return new Promise((resolve) => {
    const input = Object.assign(document.createElement("input"), { type: "file", accept });
    input.addEventListener("change", () => resolve(input.files?.[0] ?? null));
    input.addEventListener("cancel", () => resolve(null));
    input.click();
  });
}

/** A name that every file system takes. */
export const fileName = (name: string): string =>
  name
    .normalize("NFKD")
    .replace(/[^\p{L}\p{N}]+/gu, "-")
    .replace(/^-+|-+$/g, "")
    .toLowerCase()
    .slice(0, 80) || "job";
