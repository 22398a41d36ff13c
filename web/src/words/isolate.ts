// Marks around what is put into a line that is read from the other side: without them a number, its unit and a name would
// be torn apart or change places (Unicode bidirectional algorithm, isolates).
const [leftToRight, firstStrong, end] = ['\u2066', '\u2068', '\u2069'];
const readRightToLeft = /\p{Script=Arabic}|\p{Script=Hebrew}|\p{Script=Thaana}|\p{Script=Syriac}|\p{Script=Nko}|\p{Script=Adlam}/u;

/** The text as it is kept in the record: no marks. */
export const withoutMarks = (text: string) => text.replace(/[\u2066-\u2069]/g, '');

let rightToLeft = false;

export function setRightToLeft(is: boolean): void {
  rightToLeft = is;
}

/** The text kept together, in its own direction or left to right. In a language read from the left only a name written
 *  from the right needs it. */
export function isolated(value: string | number, direction: 'own' | 'ltr' = 'own'): string {
  const text = String(value);
  if (text === '' || (!rightToLeft && !readRightToLeft.test(text))) return text;
  return (direction === 'ltr' ? leftToRight : firstStrong) + text + end;
}
