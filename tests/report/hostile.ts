/** Texts that try to become something else than text: mark-up, scripts, links, commands of a terminal. */
export const HOSTILE: readonly string[] = [
  '<script>alert(1)</script>',
  '"><img src=x onerror=alert(1)>',
  "'><svg onload=alert(1)>",
  '</title></svg><script>alert(1)</script>',
  '</style><script>alert(1)</script>',
  '<!-- --> ]]> <![CDATA[ <a href="https://example.org">x</a>',
  '&lt;b&gt; &#60;i&#62; &amp;',
  'javascript:alert(1) data:text/html,<script>alert(1)</script>',
  '[x](https://example.org) ![y](https://example.org/z.png) <https://example.org>',
  'https://example.org www.example.org someone@example.org mailto:someone@example.org',
  '`code` **bold** _it_ ~~gone~~ | cell | # head',
  '| --- | $x$ [^1] &copy; \\ trailing \\',
  '1. one\n\n# two\n\n- three\n\n    four',
  '\u001b[31mred\u001b[0m \u202eturned\u202c \u2028 \u0000 \ufeff \ud800',
  'url(https://example.org) var(--x) expression(alert(1))',
];

/** A trial with a text in every place that takes one. */
export function trialWith(text: string): string {
  const t = JSON.stringify(text.replace(/[\0\p{Cs}]/gu, '') || 'x');
  // What cannot be seen is refused in names that tell things apart.
  const name = JSON.stringify(text.replace(/[#\0\p{Cs}\p{Cf}]/gu, '').trim() || 'x');
  return `trial: {id: ${t}, title: ${name}, operator: ${t}, note: ${t}, started: 2026-03-09}
lot: {id: ${name}, size: 10, sampled: 2}
machine: {label: ${name}, serial: ${name}, firmware: ${t}, parts: [{part: ${name}, rated_life: 90000, used: 1}]}
printing: {document: ${t}, settings: ${t}}
instruments: {scale: {id: ${t}}}
meter: {start: 0, end: 10000}
batches: [{end: 5000, started: 2026-03-09T09:00, finished: 2026-03-09T12:00, container_mass: 700 g, note: ${t}}]
coverage: 5 %
waste_container: {tare: 640 g, final: 840 g, capacity: 900 g}
cartridges: [{slot: ${name}, lot: ${name}, serial: ${name}, start_mass: 800 g, end_mass: 500 g}]
ambient: [{temperature: 22 °C, humidity: 45 %}, {temperature: 23 °C, humidity: 44 %}]
events: [{at: 4000, kind: stop, slot: ${name}, note: ${t}}]
prints:
  patches: [{patch: ${name}, first: {density: 1.2, lab: [50, 1, 2]}, last: {density: 1.1, lab: [51, 1, 2]}}]
  marks: [{distance: 94 mm, note: ${t}}]
inspection: [{stage: after, part: ${name}, severity: minor, note: ${t}}]
reference:
  meter: {start: 20000, end: 30000}
  waste_container: {tare: 640 g, final: 850 g}
  cartridges: [{slot: ${name}, start_mass: 800 g, end_mass: 510 g}]
stated: {waste_mass: 220 g, yield: {value: 9000, of: ${name}}}
limits:
  waste_per_thousand: {max: 25 g}
  temperature: {min: 18, max: 26}
  colour_difference: {max: 2}
  yield_at_reference: {min: 20000}
  worst_finding: {max: minor}
`;
}
