/** The known name that a mistyped one is near to, by edits of single letters (Levenshtein's distance); null where none is. */
export function nearest(name: string, known: readonly string[]): string | null {
  const ranked = known.map((one) => ({ one, edits: editsBetween(name.toLowerCase(), one) }));
  const [best] = ranked.sort((a, b) => a.edits - b.edits);
  // Two letters, or a third of a longer name: what is further off is another word.
  return best && best.edits <= Math.max(2, best.one.length / 3) && best.edits < best.one.length
    ? best.one
    : null;
}

function editsBetween(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = row[j - 1]! + Number(a[i - 1] !== b[j - 1]);
      next.push(Math.min(change, row[j]! + 1, next[j - 1]! + 1));
    }
    row = next;
  }
  return row.at(-1)!;
}
