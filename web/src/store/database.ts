// What the phone keeps: every entry, which of them a server has not confirmed yet, and a few settings. An entry counts as
// saved only when its transaction has reached the disk.
import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import type { Entry } from './entry.ts';

interface Schema extends DBSchema {
  entries: { key: string; value: Entry };
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
    const db = await openDB<Schema>(name, 1, {
      upgrade(fresh) {
        fresh.createObjectStore('entries', { keyPath: 'id' });
        fresh.createObjectStore('outbox', { keyPath: 'id' });
        fresh.createObjectStore('settings');
      },
    });
    return new Database(db);
  }

  entries(): Promise<Entry[]> {
    return this.db.getAll('entries');
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
    const tx = this.db.transaction(['entries', 'settings'], 'readwrite', { durability: 'strict' });
    for (const entry of entries) void tx.objectStore('entries').put(entry);
    void tx.objectStore('settings').put(cursor, 'cursor');
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
