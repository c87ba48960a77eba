import { startPostgres, startRedis } from '../../kit/cluster.ts';

export interface Urls {
  databaseUrl: string;
  redisUrl: string;
}

/** A database and Redis for several nodes: those of DATABASE_URL and REDIS_URL, else new ones of our own. */
export async function openPlaces(): Promise<{ urls: Urls; end(): Promise<void> }> {
  const { DATABASE_URL: databaseUrl, REDIS_URL: redisUrl } = process.env;
  if (databaseUrl && redisUrl) return { urls: { databaseUrl, redisUrl }, end: async () => undefined };
  const postgres = await startPostgres();
  const redis = await startRedis();
  return {
    urls: { databaseUrl: await postgres.newDatabase(), redisUrl: redis.url },
    async end() {
      await redis.stop();
      await postgres.end();
    },
  };
}
