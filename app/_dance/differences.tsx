/** What differs between two states, a line each; what several moves share is said once. */
export function Differences({ words }: { words: string[] }) {
  return (
    <ul className="max-h-72 list-disc overflow-y-auto pl-5">
      {[...new Set(words)].map((word) => (
        <li key={word}>{word}</li>
      ))}
    </ul>
  );
}
