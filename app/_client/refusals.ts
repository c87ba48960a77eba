/** Areas that were opened anew after a refusal and have not come to an exchange with the server since. */
export class Refusals {
  private readonly again = new Set<string>();

  /** Whether to open the area anew; not when that was done just now and did not help, which would go on for ever. */
  mayOpenAnew(area: string): boolean {
    if (this.again.has(area)) return false;
    this.again.add(area);
    return true;
  }

  /** The area and the server have exchanged what they hold. */
  exchanged(area: string): void {
    this.again.delete(area);
  }
}
