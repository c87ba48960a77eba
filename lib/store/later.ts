/** What is kept was made by a newer version, which has changed the tables; nothing was read or written. */
export class LaterStore extends Error {
  readonly code = 'LATER_STORE';

  /** @param known versions that the tables have had until now */
  constructor(version: number, known: number) {
    super(
      `What is kept here was made by a newer Larkstep (tables of version ${version}, this one knows ${known}): run that version, or restore a backup made before.`,
    );
  }
}

export const isLater = (error: unknown): error is Error => Object(error).code === 'LATER_STORE';
