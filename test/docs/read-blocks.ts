/** A block of code in a document, and what it is said to print. */
export interface CodeBlock {
  readonly language: string;
  readonly code: string;
  /** Where the code begins, counted from 1. */
  readonly line: number;
  /** The text block directly behind it, or null. */
  readonly prints: string | null;
}

/** The fenced blocks of a Markdown text; a `text` block directly behind another is that one's output. */
export function readBlocks(markdown: string): CodeBlock[] {
  const fences = [...markdown.matchAll(/^```(\w*)\n([\s\S]*?)^```$/gm)];
  return fences.flatMap((fence, at) => {
    const [, language = "", code = ""] = fence;
    if (language === "text") return [];
    const next = fences[at + 1];
    const between = markdown.slice(fence.index + fence[0].length, next?.index ?? markdown.length);
    const prints = next?.[1] === "text" && between.trim() === "" ? next[2]! : null;
    return [{ language, code, line: markdown.slice(0, fence.index).split("\n").length + 1, prints }];
  });
}

/** How many fences a Markdown text opens: what none of the blocks holds would go untested. */
export const countFences = (markdown: string): number => (markdown.match(/^\s*```/gm)?.length ?? 0) / 2;
