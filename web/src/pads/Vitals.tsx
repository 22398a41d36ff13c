// Signs: the core pair first, so that pulse and pressure are typed in one go.
import { say } from '../words/messages.ts';
import { NumbersPad } from './Numbers.tsx';

export const Vitals = () => <NumbersPad kind="vitals" title={say('vitals.title')} />;
