import { openDB, type DBSchema, type IDBPDatabase } from 'idb';
import type { LiningPlan, NextAdvice, Solution } from '../core/results.ts';

/** What the list of surveys shows without opening each. `removedAt` (ms since 1970): deleted, and can still be put back. */
export interface SurveyCard {
  readonly id: string;
  readonly title: string;
  readonly savedAt: number;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly photoCount: number;
  readonly readingCount: number;
  readonly removedAt: number | null;
}

/** A survey as kept: the plain value, read through the file schema again when opened, and the result that belongs to it. */
export interface KeptSurvey {
  readonly id: string;
  readonly survey: unknown;
  readonly solvedStamp: string | null;
}

export interface KeptResult {
  readonly id: string;
  readonly stamp: string;
  readonly solution: Solution;
  readonly plan: LiningPlan | null;
  /** Missing in results kept by earlier versions. */
  readonly next?: NextAdvice | null;
}

/** Where surveys and photographs are kept. Every promise ends only when the writing is done. */
export interface Store {
  /** False for the store in memory that stands in when the device has none. */
  readonly lasting: boolean;
  listCards(): Promise<SurveyCard[]>;
  readSurvey(id: string): Promise<KeptSurvey | undefined>;
  writeSurvey(card: SurveyCard, survey: KeptSurvey): Promise<void>;
  writeCard(card: SurveyCard): Promise<void>;
  deleteSurvey(id: string): Promise<void>;
  readResult(id: string): Promise<KeptResult | undefined>;
  writeResult(result: KeptResult): Promise<void>;
  listPhotos(id: string): Promise<string[]>;
  readPhoto(id: string, file: string): Promise<ArrayBuffer | undefined>;
  writePhoto(id: string, file: string, bytes: ArrayBuffer): Promise<void>;
  deletePhoto(id: string, file: string): Promise<void>;
  readSetting(key: string): Promise<string | undefined>;
  writeSetting(key: string, value: string): Promise<void>;
}

interface Schema extends DBSchema {
  cards: { key: string; value: SurveyCard };
  surveys: { key: string; value: KeptSurvey };
  results: { key: string; value: KeptResult };
  photos: { key: [string, string]; value: ArrayBuffer };
  settings: { key: string; value: string };
}

const NAME = 'bedplane';
const photosOf = (id: string) => IDBKeyRange.bound([id], [id, []]);

/** Opens the store on the device, or one in memory when the browser has none to give (private window, full disk). */
export async function openStore(): Promise<Store> {
  try {
    const db = await openDB<Schema>(NAME, 1, {
      upgrade(database) {
        for (const name of ['cards', 'surveys', 'results'] as const)
          database.createObjectStore(name, { keyPath: 'id' });
        database.createObjectStore('photos');
        database.createObjectStore('settings');
      },
    });
    return makeDeviceStore(db);
  } catch {
    return makeMemoryStore();
  }
}

function makeDeviceStore(db: IDBPDatabase<Schema>): Store {
  return {
    lasting: true,
    listCards: () => db.getAll('cards'),
    readSurvey: (id) => db.get('surveys', id),
    async writeSurvey(card, survey) {
      const change = db.transaction(['cards', 'surveys'], 'readwrite');
      await Promise.all([
        change.objectStore('cards').put(card),
        change.objectStore('surveys').put(survey),
        change.done,
      ]);
    },
    async writeCard(card) {
      await db.put('cards', card);
    },
    async deleteSurvey(id) {
      const change = db.transaction(['cards', 'surveys', 'results', 'photos'], 'readwrite');
      await Promise.all([
        change.objectStore('cards').delete(id),
        change.objectStore('surveys').delete(id),
        change.objectStore('results').delete(id),
        change.objectStore('photos').delete(photosOf(id)),
        change.done,
      ]);
    },
    readResult: (id) => db.get('results', id),
    async writeResult(result) {
      await db.put('results', result);
    },
    listPhotos: async (id) => (await db.getAllKeys('photos', photosOf(id))).map(([, file]) => file),
    readPhoto: (id, file) => db.get('photos', [id, file]),
    async writePhoto(id, file, bytes) {
      const change = db.transaction('photos', 'readwrite');
      await Promise.all([change.store.put(bytes, [id, file]), change.done]);
      // some browsers have let large records go missing without an error
      const kept = await db.get('photos', [id, file]);
      if (kept?.byteLength !== bytes.byteLength)
        throw new Error(`kept ${kept?.byteLength ?? 0} of ${bytes.byteLength} bytes`);
    },
    async deletePhoto(id, file) {
      await db.delete('photos', [id, file]);
    },
    readSetting: (key) => db.get('settings', key),
    async writeSetting(key, value) {
      await db.put('settings', value, key);
    },
  };
}

/** A store that lasts as long as the page. */
export function makeMemoryStore(): Store {
  const cards = new Map<string, SurveyCard>();
  const surveys = new Map<string, KeptSurvey>();
  const results = new Map<string, KeptResult>();
  const photos = new Map<string, Map<string, ArrayBuffer>>();
  const settings = new Map<string, string>();
  const done = Promise.resolve();
  return {
    lasting: false,
    listCards: () => Promise.resolve([...cards.values()]),
    readSurvey: (id) => Promise.resolve(surveys.get(id)),
    writeSurvey(card, survey) {
      cards.set(card.id, card);
      surveys.set(survey.id, survey);
      return done;
    },
    writeCard(card) {
      cards.set(card.id, card);
      return done;
    },
    deleteSurvey(id) {
      for (const map of [cards, surveys, results, photos]) map.delete(id);
      return done;
    },
    readResult: (id) => Promise.resolve(results.get(id)),
    writeResult(result) {
      results.set(result.id, result);
      return done;
    },
    listPhotos: (id) => Promise.resolve([...(photos.get(id)?.keys() ?? [])]),
    readPhoto: (id, file) => Promise.resolve(photos.get(id)?.get(file)),
    writePhoto(id, file, bytes) {
      const kept = photos.get(id) ?? new Map<string, ArrayBuffer>();
      photos.set(id, kept.set(file, bytes));
      return done;
    },
    deletePhoto(id, file) {
      photos.get(id)?.delete(file);
      return done;
    },
    readSetting: (key) => Promise.resolve(settings.get(key)),
    writeSetting(key, value) {
      settings.set(key, value);
      return done;
    },
  };
}
