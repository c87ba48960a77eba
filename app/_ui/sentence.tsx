/** A sentence in which what stands between quotation marks may be of another alphabet, and run the other way. */
export function Sentence({ children }: { children: string }) {
  return children.split(/(“[^”]*”)/).map((part, i) => {
    const quoted = part.startsWith('“') && part.endsWith('”');
    // Nothing but its place tells one part from the next.
    const key = `${i}`;
    return quoted ? (
      <bdi key={key} dir="ltr">
        “<bdi>{part.slice(1, -1)}</bdi>”
      </bdi>
    ) : (
      part
    );
  });
}
