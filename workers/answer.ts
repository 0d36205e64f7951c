import { outcomeOfError, type Call, type Reply } from '../src/vision/messages.ts';

/** Answers every call with what `run` gives, its progress on the way; says "ready" once `started` is done. */
export function answerCalls<Ask, T>(
  run: (ask: Ask, progress: (share: number) => void) => T | Promise<T>,
  started: Promise<unknown> = Promise.resolve(),
): void {
  const send = (reply: Reply<T>) => postMessage(reply);
  // a start that failed is told by every call that needs it
  started.then(
    () => send({ kind: 'ready' }),
    () => send({ kind: 'ready' }),
  );
  addEventListener('message', (event: MessageEvent<Call<Ask>>) => {
    const { id, ask } = event.data;
    Promise.resolve()
      .then(() => run(ask, (share) => send({ kind: 'progress', id, share })))
      .then((value) => send({ kind: 'end', id, outcome: { ok: true, value } }))
      .catch((thrown: unknown) => send({ kind: 'end', id, outcome: outcomeOfError(thrown) }));
  });
}
