/** "Ilse & Teodor", each name in the direction of its own alphabet, always in this order. */
export function Names({ one, other }: { one: string; other: string }) {
  return (
    <>
      <bdi>{one}</bdi> & <bdi>{other}</bdi>
    </>
  );
}
