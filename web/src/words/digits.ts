// Numbers that people type into text: kept with western digits, typed with whichever the phone's keyboard has.
const others = /[\u0660-\u0669\u06f0-\u06f9\u0966-\u096f]/g; // Arabic-Indic, Eastern Arabic-Indic, Devanagari

const zeros = [0x660, 0x6f0, 0x966];

export const westernDigits = (text: string): string =>
  text.replace(others, (digit) => {
    const code = digit.charCodeAt(0);
    return String(code - zeros.findLast((zero) => zero <= code)!);
  });
