/** Upper bounds, in seconds, of the buckets that commits are counted in. */
const BUCKETS = [0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.25, 1];

/** Counts for whoever runs the server; text as Prometheus' exposition format 0.0.4 has it. */
export class Metrics {
  private readonly counters = new Map<string, number>();
  private readonly gauges = new Map<string, () => number>();
  private readonly commits = BUCKETS.map(() => 0);
  private commitSeconds = 0;
  private commitCount = 0;

  count(name: string, labels = ''): void {
    const key = `larkstep_${name}_total${labels && `{${labels}}`}`;
    this.counters.set(key, (this.counters.get(key) ?? 0) + 1);
  }

  gauge(name: string, read: () => number): void {
    this.gauges.set(`larkstep_${name}`, read);
  }

  /** How long an update took from being read to being durable. */
  commit(seconds: number): void {
    this.commitCount += 1;
    this.commitSeconds += seconds;
    BUCKETS.forEach((bound, index) => {
      if (seconds <= bound) this.commits[index]! += 1;
    });
  }

  text(): string {
    const lines: string[] = [];
    for (const [name, read] of this.gauges) lines.push(`# TYPE ${name} gauge`, `${name} ${read()}`);
    const typed = new Set<string>();
    for (const [key, value] of [...this.counters].sort()) {
      const name = key.split('{')[0]!;
      if (!typed.has(name)) lines.push(`# TYPE ${name} counter`);
      typed.add(name);
      lines.push(`${key} ${value}`);
    }
    const name = 'larkstep_commit_seconds';
    lines.push(`# TYPE ${name} histogram`);
    BUCKETS.forEach((bound, index) => {
      lines.push(`${name}_bucket{le="${bound}"} ${this.commits[index]}`);
    });
    lines.push(`${name}_bucket{le="+Inf"} ${this.commitCount}`);
    lines.push(`${name}_sum ${this.commitSeconds}`, `${name}_count ${this.commitCount}`);
    return `${lines.join('\n')}\n`;
  }
}
