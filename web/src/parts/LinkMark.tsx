// Whether this phone and the ward's server are in step, in a mark and in words.
import { linkState, practice } from '../sync/link.ts';
import { outbox } from '../store/record.ts';
import { say } from '../words/messages.ts';

export function linkWords(): string {
  const unsent = outbox().size;
  switch (linkState()) {
    case 'in_step':
      return unsent === 0 ? say('link.in_step') : say('link.sending', { n: unsent });
    case 'sending':
      return say('link.sending', { n: unsent });
    case 'connecting':
      return say('link.connecting');
    case 'apart':
      return say(practice() ? 'link.apart_practice' : 'link.apart_ward');
    default:
      return unsent === 0 ? say('link.kept') : say('link.kept_n', { n: unsent });
  }
}

export function LinkMark(props: { short?: boolean }) {
  const reached = () => linkState() === 'in_step' || linkState() === 'sending';
  return (
    <span class="link-mark" title={linkWords()}>
      <span aria-hidden="true">{reached() ? '=)' : 'x)'}</span>
      <span class={props.short ? 'sr' : 'link-words'}>{linkWords()}</span>
      <span class="link-count" aria-hidden="true">
        {props.short && outbox().size > 0 ? outbox().size : ''}
      </span>
    </span>
  );
}
