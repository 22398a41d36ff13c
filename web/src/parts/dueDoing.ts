// What the key of a due row does, wherever the row stands: it writes the entry that the row asks for, or opens the pad.
import { type Accessor, createSignal } from 'solid-js';
import type { Due } from '../core/answers.ts';
import { dueAct } from '../core/dueActs.ts';
import { choices, useLive } from './live.tsx';
import { record } from './recording.ts';
import { go } from './route.ts';

export function useDueKey(due: Accessor<Due>) {
  const live = useLive();
  const [done, setDone] = createSignal(false);
  const act = () => dueAct(due(), choices()!);
  const tap = async () => {
    const what = act();
    if ('go' in what) return go('case', live.id, what.go, what.subject ?? '');
    setDone(await record({ case: live.id, ...what.done }));
  };
  return { done, goes: () => 'go' in act(), tap };
}
