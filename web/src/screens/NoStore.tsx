// When the browser lets the page keep nothing: what is wrong, and what to do instead.
import { say } from '../words/messages.ts';

export function NoStore(props: { fault: string }) {
  return (
    <main class="plain" role="alert">
      <h1>{say('no_store')}</h1>
      <p>{say('no_store.what')}</p>
      <p class="quiet">{props.fault}</p>
    </main>
  );
}
