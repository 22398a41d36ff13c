// The strip over a screen that belongs to no case: back to the cases, and where one is.
import { go } from './route.ts';
import { say } from '../words/messages.ts';

export function BackToCases(props: { title: string }) {
  return (
    <header class="strip">
      <button type="button" class="key back" onClick={() => go()}>
        ‹ {say('strip.cases')}
      </button>
      <h1>{props.title}</h1>
    </header>
  );
}
