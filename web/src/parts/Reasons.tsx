// Each reason with its figure, its limit and where the rule comes from.
import { For, type JSX } from 'solid-js';
import type { Reason } from '../core/answers.ts';
import { reasonText, sourceText } from '../words/adviceText.ts';
import { now } from './clock.ts';

export function Reasons(props: { reasons: Reason[]; children?: JSX.Element }) {
  return (
    <ul class="reasons">
      <For each={props.reasons}>
        {(reason) => (
          <li>
            {reasonText(reason, now())}{' '}
            <bdi class="quiet source">{sourceText(reason)}</bdi>
          </li>
        )}
      </For>
      {props.children}
    </ul>
  );
}
