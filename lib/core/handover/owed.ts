/** Who owes what the run-of-show entry still lacks, by the words of `entryFacts(...).missing`. */
const owners: Record<string, string> = {
  'the date': 'couple or instructor',
  'the song': 'couple or instructor',
  'the closing pose': 'couple or instructor',
};

/** @param evening who fills in what belongs to the evening */
export const owedBy = (missing: string, evening = 'planner'): string => owners[missing] ?? evening;
