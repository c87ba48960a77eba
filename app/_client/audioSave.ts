/** Hands a file to the person, as their browser saves files; what no file system takes is left out of its name. */
export function saveFile(file: Blob, name: string): void {
  const address = URL.createObjectURL(file);
  const link = document.createElement('a');
  link.href = address;
  link.download = name
    .replaceAll(':', '.')
    .replace(/[\\/*?"<>|\p{Cc}]/gu, '')
    .replace(/\s+/g, ' ');
  document.body.append(link);
  link.click();
  link.remove();
  // The browser has to have begun reading it.
  window.setTimeout(() => URL.revokeObjectURL(address), 60_000);
}
