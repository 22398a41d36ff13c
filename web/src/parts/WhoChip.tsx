// Who writes. The phone is shared, so the last three people are at hand; nobody has to be named.
import { For, Show, createSignal } from 'solid-js';
import { someoneHere } from '../store/entry.ts';
import { people, setWho, who } from '../store/record.ts';
import { say } from '../words/messages.ts';

const atHand = 3;
export const whoText = (name: string) => (name === someoneHere ? say('who.someone') : name);

export function PersonChoice(props: { chosen?: string; others?: string[]; onChoose: (name: string) => void }) {
  const [adding, setAdding] = createSignal(false);
  let input!: HTMLInputElement;
  // Whoever was chosen stays in view, also with a name that was typed just now.
  const names = () => {
    const near = people().slice(0, atHand);
    const chosen = props.chosen;
    return chosen === undefined || chosen === someoneHere || near.includes(chosen) || props.others?.includes(chosen) ? near : [...near, chosen];
  };
  return (
    <div class="chips" role="group" aria-label={say('who.title')}>
      <For each={names()}>
        {(name) => (
          <button type="button" class="chip" aria-pressed={props.chosen === name} onClick={() => props.onChoose(name)}>
            <bdi>{name}</bdi>
          </button>
        )}
      </For>
      <For each={props.others ?? []}>
        {(name) => (
          <button type="button" class="chip" aria-pressed={props.chosen === name} onClick={() => props.onChoose(name)}>
            {whoText(name)}
          </button>
        )}
      </For>
      <Show
        when={adding()}
        fallback={
          <button type="button" class="chip" onClick={() => setAdding(true)}>
            {say('who.add')}
          </button>
        }
      >
        <form
          class="inline"
          onSubmit={(event) => {
            event.preventDefault();
            const name = input.value.trim();
            if (name !== '') props.onChoose(name);
            setAdding(false);
          }}
        >
          <input ref={input} dir="auto" aria-label={say('who.name')} placeholder={say('who.name')} maxlength="60" autocomplete="off" />
          <button type="submit" class="chip">
            {say('who.keep')}
          </button>
        </form>
      </Show>
    </div>
  );
}

export function WhoChip() {
  const [open, setOpen] = createSignal(false);
  return (
    <>
      <button type="button" class="key small who" aria-expanded={open()} onClick={() => setOpen(!open())}>
        <span class="sr">{say('who.title')} </span>
        {who() === someoneHere ? say('who.ask') : who()}
      </button>
      <Show when={open()}>
        <div class="drop">
          <PersonChoice
            chosen={who()}
            others={[someoneHere]}
            onChoose={(name) => {
              void setWho(name);
              setOpen(false);
            }}
          />
        </div>
      </Show>
    </>
  );
}
