/** Hands the person words of theirs as a file. */
export function keepFile(name: string, words: string): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([words], { type: 'application/json' }));
  link.download = name;
  link.click();
  URL.revokeObjectURL(link.href);
}
