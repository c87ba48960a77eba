/** Who owes what the run-of-show entry still lacks, by the words of `entryFacts(...).missing`. */
const owners: Record<string, string> = {
  'the date': 'couple or instructor',
  'the song': 'couple or instructor',
  'the closing pose': 'couple or instructor',
};

export const owedBy = (missing: string): string => owners[missing] ?? 'planner';
