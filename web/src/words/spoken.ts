// A line as it is said aloud: the same words, with numbers and units spelled out, so that no voice reads "mL" as letters
// or "0.5" as a date.

const ones = ['zero', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten', 'eleven', 'twelve', 'thirteen', 'fourteen', 'fifteen', 'sixteen', 'seventeen', 'eighteen', 'nineteen'];
const tens = ['', '', 'twenty', 'thirty', 'forty', 'fifty', 'sixty', 'seventy', 'eighty', 'ninety'];

function wholeWords(value: number): string {
  if (value < 20) return ones[value]!;
  if (value < 100) return tens[Math.floor(value / 10)]! + (value % 10 ? `-${ones[value % 10]}` : '');
  const [size, name] = value < 1000 ? [100, 'hundred'] : value < 1_000_000 ? [1000, 'thousand'] : [1_000_000, 'million'];
  const rest = value % size;
  return `${wholeWords(Math.floor(value / size))} ${name}${rest ? `${rest < 100 ? ' and' : ''} ${wholeWords(rest)}` : ''}`;
}

/** "0.5" as "zero point five"; "1500" as "one thousand five hundred". */
export function numberWords(digits: string): string {
  const [whole = '0', decimals] = digits.replaceAll('\u202f', '').split('.');
  return wholeWords(Number(whole)) + (decimals ? ` point ${[...decimals].map((one) => ones[Number(one)]).join(' ')}` : '');
}

// One, then many. Longest first, so that "mL/h" is not read as "mL".
const units: [string, string, string][] = [
  ['mL/kg', 'millilitre per kilogram', 'millilitres per kilogram'],
  ['mL/h', 'millilitre per hour', 'millilitres per hour'],
  ['mmol/L', 'millimole per litre', 'millimoles per litre'],
  ['g/L', 'gram per litre', 'grams per litre'],
  ['mmHg', 'millimetre of mercury', 'millimetres of mercury'],
  ['/min', 'per minute', 'per minute'],
  ['mL', 'millilitre', 'millilitres'],
  ['mg', 'milligram', 'milligrams'],
  ['kg', 'kilogram', 'kilograms'],
  ['cm', 'centimetre', 'centimetres'],
  ['min', 'minute', 'minutes'],
  ['g', 'gram', 'grams'],
  ['h', 'hour', 'hours'],
  ['s', 'second', 'seconds'],
  ['d', 'day', 'days'],
];
const number = '\\d(?:[\\d\\u202f]*\\d)?(?:\\.\\d+)?';
const measured = new RegExp(`(${number})(?:[ \\u00a0]?(${units.map(([unit]) => unit).join('|')})(?![\\w/]))?`, 'g');
const clock = /\b(\d{2}):(\d{2})\b/g;

const clockWords = (hour: string, minute: string) =>
  `${wholeWords(Number(hour))} ${minute === '00' ? "o'clock" : `${minute.startsWith('0') ? 'oh ' : ''}${wholeWords(Number(minute))}`}`;

export function spoken(line: string): string {
  return line
    .replace(clock, (_, hour: string, minute: string) => clockWords(hour, minute))
    .replace(measured, (_, digits: string, unit: string | undefined) => {
      const words = units.find(([name]) => name === unit);
      return numberWords(digits) + (words ? ` ${digits === '1' ? words[1] : words[2]}` : '');
    })
    .replaceAll('\u00a0', ' ');
}
