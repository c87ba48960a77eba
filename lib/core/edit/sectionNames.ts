import type { Section } from '../song/section.ts';

/** Sections in the order in which they begin. */
export const inOrder = (sections: readonly Section[]): Section[] =>
  [...sections].sort((a, b) => a.start - b.start || (a.id < b.id ? -1 : 1));

/** The name of each section by id: the person's own, else its kind, numbered where the song has several of that kind. */
export function sectionNames(sections: readonly Section[]): Map<string, string> {
  const total = new Map<string, number>();
  for (const { kind } of sections) total.set(kind, (total.get(kind) ?? 0) + 1);
  const seen = new Map<string, number>();
  return new Map(
    inOrder(sections).map(({ id, kind, name }) => {
      const number = (seen.get(kind) ?? 0) + 1;
      seen.set(kind, number);
      return [id, name || (total.get(kind) === 1 ? kind : `${kind} ${number}`)];
    }),
  );
}

/** `the bridge`, `verse 2`; a name of the person's own as it is. */
export const sectionWords = ({ name, kind }: { name: string; kind: string }): string =>
  name === kind ? `the ${name}` : name;
