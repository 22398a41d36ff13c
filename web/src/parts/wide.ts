// Is there room for two things side by side?
import { createSignal } from 'solid-js';

const query = matchMedia('(min-width: 1000px)');
const [isWide, setWide] = createSignal(query.matches);
query.addEventListener('change', () => setWide(query.matches));
export { isWide };
