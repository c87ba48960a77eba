/** Upper bounds, in seconds, of the buckets that commits are counted in. */
const BUCKETS = [0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.25, 1];
const PREFIX = 'larkstep_';

/** Everything that is counted, and what it says; each counter has one label. */
const counters = {
  closed: { label: 'why', help: 'Connections that the server closed, by the reason it gave.' },
  set_aside: { label: 'kind', help: 'Stored updates or values that could not be used and were set aside.' },
  apart: { label: 'area', help: 'Times that an area of a board could not be opened, not even in part.' },
  mismatches: { label: 'area', help: 'Open areas that held something else than what is stored of them.' },
} as const;
type Counter = keyof typeof counters;

const gauges = {
  connections: 'Connections for sync that are open.',
  rooms: 'Areas of boards that are open.',
} as const;
type Gauge = keyof typeof gauges;

/**
 * Counts for whoever runs the server, as text in Prometheus' exposition format 0.0.4
 * (prometheus.io/docs/instrumenting/exposition_formats).
 */
export class Metrics {
  private readonly counts = new Map<Counter, Map<string, number>>();
  private readonly reads = new Map<Gauge, () => number>();
  private readonly commits = BUCKETS.map(() => 0);
  private commitSeconds = 0;
  private commitCount = 0;

  count(name: Counter, label: string): void {
    const counts = this.counts.get(name) ?? new Map<string, number>();
    this.counts.set(name, counts);
    counts.set(label, (counts.get(label) ?? 0) + 1);
  }

  gauge(name: Gauge, read: () => number): void {
    this.reads.set(name, read);
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
    const lines = [
      ...[...this.reads].flatMap(([name, read]) => [
        ...head(name, 'gauge', gauges[name]),
        `${PREFIX}${name} ${read()}`,
      ]),
      ...[...this.counts].flatMap(([name, counts]) => {
        const { label, help } = counters[name];
        const samples = [...counts].map(
          ([value, count]) => `${PREFIX}${name}_total{${label}="${escaped(value)}"} ${count}`,
        );
        return [...head(`${name}_total`, 'counter', help), ...samples];
      }),
      ...this.commitLines(),
    ];
    return `${lines.join('\n')}\n`;
  }

  private commitLines(): string[] {
    const name = 'commit_seconds';
    const buckets = [...BUCKETS.map(String), '+Inf'].map((bound, index) => {
      const count = this.commits[index] ?? this.commitCount;
      return `${PREFIX}${name}_bucket{le="${bound}"} ${count}`;
    });
    return [
      ...head(name, 'histogram', 'Time from reading an update to its being durable, in seconds.'),
      ...buckets,
      `${PREFIX}${name}_sum ${this.commitSeconds}`,
      `${PREFIX}${name}_count ${this.commitCount}`,
    ];
  }
}

const head = (name: string, type: string, help: string): string[] => [
  `# HELP ${PREFIX}${name} ${help}`,
  `# TYPE ${PREFIX}${name} ${type}`,
];

const escaped = (value: string): string =>
  value.replaceAll('\\', '\\\\').replaceAll('"', '\\"').replaceAll('\n', '\\n');
