import type { Refusal } from '../core/refusal.ts';

/** What can go wrong around the sums, on this device: the user is told in words.ts what to do next. */
export type Trouble =
  | { code: 'worker_lost' } // the background part died, most likely for want of memory
  | { code: 'worker_slow' } // it did not start within its time limit
  | { code: 'not_saved'; reason: string }
  | { code: 'photo_not_kept'; file: string }
  | { code: 'survey_unreadable'; title: string }
  | { code: 'sample_missing' }
  | { code: 'profiles_not_kept'; reason: string }
  | { code: 'profiles_unreadable'; count: number }
  | { code: 'export_failed'; what: string }
  | { code: 'bug'; message: string };

/** Anything that stopped a job, as data: what the user can put right, or trouble on this device. */
export type Stop = Refusal | Trouble;
