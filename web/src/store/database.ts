// What the phone keeps: every entry, which of them a server has not confirmed yet, and a few settings. An entry counts as
// saved only when its transaction has reached the disk.
import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import { type Entry, contentOf } from './entry.ts';

interface Schema extends DBSchema {
  entries: { key: string; value: Entry };
  versions: { key: string; value: Entry }; // of an id that is in `entries` with other content
  outbox: { key: string; value: { id: string; since: number; refused?: string } };
  settings: { key: string; value: unknown };
}

export interface Unsent {
  id: string;
  since: number;
  /** The server's sentence, when it would not take the entry. */
  refused?: string;
}

export class Database {
  private constructor(private readonly db: IDBPDatabase<Schema>) {}

  static async open(name = 'stanch'): Promise<Database> {
    const db = await openDB<Schema>(name, 2, {
      upgrade(fresh, from) {
        if (from < 1) {
          fresh.createObjectStore('entries', { keyPath: 'id' });
          fresh.createObjectStore('outbox', { keyPath: 'id' });
          fresh.createObjectStore('settings');
        }
        if (from < 2) fresh.createObjectStore('versions');
      },
    });
    return new Database(db);
  }

  async entries(): Promise<Entry[]> {
    return [...(await this.db.getAll('entries')), ...(await this.db.getAll('versions'))];
  }

  unsent(): Promise<Unsent[]> {
    return this.db.getAll('outbox');
  }

  /** Entries written here: durable, and marked as to be sent, before this resolves. */
  async addWritten(entries: readonly Entry[]): Promise<void> {
    const tx = this.db.transaction(['entries', 'outbox'], 'readwrite', { durability: 'strict' });
    for (const entry of entries) {
      void tx.objectStore('entries').put(entry);
      void tx.objectStore('outbox').put({ id: entry.id, since: Date.parse(entry.written) });
    }
    await tx.done;
  }

  /** Entries from a server, with the cursor that they bring the phone to, in one piece. */
  async addReceived(entries: readonly Entry[], cursor: number): Promise<void> {
    const tx = this.db.transaction(['entries', 'versions', 'settings'], 'readwrite', { durability: 'strict' });
    const known = await Promise.all(entries.map((entry) => tx.objectStore('entries').get(entry.id)));
    const first = new Map(known.map((entry, i) => [entries[i]!.id, entry ?? entries[i]!]));
    for (const entry of entries)
      if (contentOf(first.get(entry.id)!) === contentOf(entry)) void tx.objectStore('entries').put(entry);
      else void tx.objectStore('versions').put(entry, contentOf(entry));
    void tx.objectStore('settings').put(cursor, 'cursor');
    await tx.done;
  }

  /** Entries that another phone handed over: what was not held here waits for a server too. Gives those. */
  async addHanded(entries: readonly Entry[]): Promise<Entry[]> {
    const tx = this.db.transaction(['entries', 'versions', 'outbox'], 'readwrite', { durability: 'strict' });
    const known = await Promise.all(entries.map((entry) => tx.objectStore('entries').get(entry.id)));
    const versions = await Promise.all(entries.map((entry) => tx.objectStore('versions').get(contentOf(entry))));
    const fresh = entries.filter((entry, i) => !versions[i] && !(known[i] && contentOf(known[i]) === contentOf(entry)));
    for (const entry of fresh) {
      if (known[entries.indexOf(entry)]) void tx.objectStore('versions').put(entry, contentOf(entry));
      else void tx.objectStore('entries').put(entry);
      void tx.objectStore('outbox').put({ id: entry.id, since: Date.parse(entry.written) });
    }
    await tx.done;
    return fresh;
  }

  /** Another record answers, which may lack anything: all that is here is to be sent, and its own read from the start. */
  async beginWith(record: string): Promise<void> {
    const tx = this.db.transaction(['entries', 'outbox', 'settings'], 'readwrite', { durability: 'strict' });
    const waiting = new Set(await tx.objectStore('outbox').getAllKeys());
    for (const entry of await tx.objectStore('entries').getAll())
      if (!waiting.has(entry.id)) void tx.objectStore('outbox').put({ id: entry.id, since: Date.parse(entry.written) });
    void tx.objectStore('settings').put(0, 'cursor');
    void tx.objectStore('settings').put(record, 'record');
    await tx.done;
  }

  async confirmSent(ids: readonly string[]): Promise<void> {
    const tx = this.db.transaction('outbox', 'readwrite', { durability: 'strict' });
    for (const id of ids) void tx.store.delete(id);
    await tx.done;
  }

  async markRefused(id: string, sentence: string): Promise<void> {
    const row = await this.db.get('outbox', id);
    if (row) await this.db.put('outbox', { ...row, refused: sentence });
  }

  async setting<T>(name: string): Promise<T | undefined> {
    return (await this.db.get('settings', name)) as T | undefined;
  }

  async keep(name: string, value: unknown): Promise<void> {
    const tx = this.db.transaction('settings', 'readwrite', { durability: 'strict' });
    void tx.store.put(value, name);
    await tx.done;
  }

  async drop(name: string): Promise<void> {
    await this.db.delete('settings', name);
  }
}
