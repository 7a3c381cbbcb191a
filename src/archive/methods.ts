/**
 * Figures that an earlier version worked out in another way, with the version that changed it. What such a figure was
 * in a seal of before is told as a note; a verdict or an outcome that moves with it is a change like any other.
 */
const CHANGED_IN: Readonly<Record<string, string>> = {
  // 1.2.0: over the times of printing, with the scatter of the readings in the uncertainty of the mean, and that of
  // the formula. 1.3.0: the scatter of the readings that count alone.
  temperature: '1.3.0',
  humidity: '1.3.0',
  absolute_humidity: '1.3.0',
  dew_point: '1.3.0',
};

const VERSION = /(\d+)\.(\d+)\.(\d+)$/;

/** The version since which a figure is worked out in another way than by `tool`; null where it is the same way. */
export function methodChangedIn(figure: string, tool: string): string | null {
  const since = Object.hasOwn(CHANGED_IN, figure) ? (CHANGED_IN[figure] ?? null) : null;
  return since !== null && isBefore(tool, since) ? since : null;
}

function isBefore(tool: string, version: string): boolean {
  const [a, b] = [tool, version].map((text) => (VERSION.exec(text) ?? []).slice(1).map(Number));
  if (a === undefined || b === undefined || a.length < 3) return false;
  const at = a.findIndex((part, index) => part !== b[index]);
  return at !== -1 && (a[at] ?? 0) < (b[at] ?? 0);
}
