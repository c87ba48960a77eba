import { IndexeddbPersistence } from 'y-indexeddb';
import type * as Y from 'yjs';

/**
 * A document's copy on this device. Its place may be taken from under it: by another tab of this browser whose words were refused,
 * by somebody who clears what the site keeps, by a phone that ended it while the page slept. Writing there then throws in the
 * midst of a change, which would be neither sent nor drawn: so the copy is begun anew, with all that the document holds.
 */
export class LocalCopy {
  private place: Place;
  /** It has been read, and everything is kept from now on. */
  loaded = false;

  constructor(
    private readonly name: string,
    private readonly doc: Y.Doc,
    private readonly onChange: () => void,
  ) {
    this.place = this.open();
  }

  get whenRead(): Promise<unknown> {
    return this.place.whenSynced;
  }

  clear(): Promise<void> {
    return this.place.clearData();
  }

  close(): void {
    void this.place.destroy();
  }

  private open(): Place {
    const place = new Place(this.name, this.doc, () => {
      if (place !== this.place) return;
      this.loaded = false;
      this.close();
      this.place = this.open();
      this.onChange();
    });
    place.once('synced', () => {
      this.loaded = true;
      this.onChange();
    });
    return place;
  }
}

class Place extends IndexeddbPersistence {
  constructor(name: string, doc: Y.Doc, onLost: () => void) {
    super(name, doc);
    const store = this._storeUpdate;
    doc.off('update', store);
    this._storeUpdate = (update, origin) => {
      try {
        store(update, origin);
      } catch {
        onLost();
      }
    };
    doc.on('update', this._storeUpdate);
    const watch = (db: IDBDatabase) => {
      for (const event of ['versionchange', 'close']) db.addEventListener(event, onLost);
    };
    // Where no place can be opened, nothing is kept and `loaded` stays false.
    this._db.then(watch, () => undefined);
  }
}
