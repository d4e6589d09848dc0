let script: string | null = null;

/**
 * A new worker for logs, of the page's own script: a page from a disk may fetch no other, nor may its worker be a module.
 */
export function startWorker(): Worker {
  const { textContent } = document.querySelector("script#fuelwright")!;
  script ??= URL.createObjectURL(new Blob([textContent], { type: "text/javascript" }));
  return new Worker(script, { name: "evidence" });
}
