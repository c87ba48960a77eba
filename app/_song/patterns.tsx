/** Patterns that tell music apart without colour: plain, lines in four directions, dots, crosses; then they begin again. */
const MARKS = [
  null,
  'M0 8 L8 0',
  'M2 2h1v1h-1z M6 6h1v1h-1z',
  'M0 4 H8',
  'M0 0 L8 8',
  'M4 0 V8',
  'M0 8 L8 0 M0 0 L8 8',
  'M0 4 H8 M4 0 V8',
] as const;

/** Fill of the n-th kind of music; 0 is music of which nobody said what it is like. */
export const patternOf = (prefix: string, pattern: number): string =>
  pattern === 0 ? 'transparent' : `url(#${prefix}-${((pattern - 1) % MARKS.length) + 1})`;

export function Patterns({ prefix }: { prefix: string }) {
  return (
    <defs>
      {MARKS.map((mark, i) => (
        <pattern
          // The list is fixed.
          // biome-ignore lint/suspicious/noArrayIndexKey: never reordered
          key={i}
          id={`${prefix}-${i + 1}`}
          width="8"
          height="8"
          patternUnits="userSpaceOnUse"
        >
          <rect width="8" height="8" className="fill-paper-2" />
          {mark === null ? null : <path d={mark} className="stroke-rule" strokeWidth="1.4" fill="none" />}
        </pattern>
      ))}
      <pattern
        id={`${prefix}-left-out`}
        width="12"
        height="12"
        patternUnits="userSpaceOnUse"
        patternTransform="rotate(45)"
      >
        <path d="M0 0 V12" className="stroke-ink" strokeWidth="3" opacity="0.55" />
      </pattern>
    </defs>
  );
}
