/** Whether the page is dark now: as the person chose, or as the machine has it. */
export function isDark(): boolean {
  const { classList } = document.documentElement;
  if (classList.contains("dark")) return true;
  return !classList.contains("light") && matchMedia("(prefers-color-scheme: dark)").matches;
}
