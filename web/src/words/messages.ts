// Words for people. Ids in answers are looked up in the catalogue that the command line uses too (i18n/LANGUAGE.json); the
// page's own words are beside this file. What a language lacks is shown in English, and an id without a message is shown
// as its own words: never dropped, and named in the console.
import { IntlMessageFormat } from 'intl-messageformat';
import englishShared from '../../../i18n/en.json';
import englishPage from './en.json';
import { isolated } from './isolate.ts';

export type Arguments = Record<string, string | number>;
export type Messages = Record<string, string>;

/** Both catalogues of one language. */
export interface Words {
  shared: Messages;
  page: Messages;
}

const english: Words = { shared: englishShared, page: englishPage };
let language = 'en';
let words = english;
let locale = localeOf(language);
// Looking up what the browser knows of a language is slow on a phone: once for all messages, not once a message.
IntlMessageFormat.resolveLocale = () => locale;

type Fill = (args: Arguments) => string;
const fills = new Map<string, Fill>();
const onlyNames = /^(?:[^{}'<#]|\{\s*\w+\s*\})*$/; // no plural, choice, quote or tag: nothing to parse

/** Numbers are written with western digits and dates by the same calendar in every language. */
function localeOf(code: string): Intl.Locale {
  return new Intl.Locale(code, { numberingSystem: 'latn', calendar: 'gregory' });
}

export const localeTag = () => locale.toString();

/** From here on everything is said in this language. */
export function speak(code: string, catalogues: Words = english): void {
  language = code;
  words = catalogues;
  locale = localeOf(code);
  fills.clear();
}

function fillOf(pattern: string): Fill {
  if (onlyNames.test(pattern)) return (args) => pattern.replace(/\{\s*(\w+)\s*\}/g, (_, name: string) => isolated(args[name] ?? ''));
  const format = new IntlMessageFormat(pattern, localeTag());
  const names = pattern.match(/(?<=\{\s*)\w+/g) ?? [];
  return (args) =>
    String(
      format.format(
        Object.fromEntries(
          names.map((name) => {
            const value = args[name] ?? '';
            return [name, typeof value === 'string' ? isolated(value) : value]; // a number chooses the plural form
          }),
        ),
      ),
    );
}

function filled(pattern: string, args: Arguments): string {
  if (!pattern.includes('{')) return pattern;
  let fill = fills.get(pattern);
  if (fill === undefined) {
    fill = fillOf(pattern);
    fills.set(pattern, fill);
  }
  return fill(args).trimEnd();
}

const spaced = (id: string) => id.replaceAll('_', ' ');

function withoutWords(id: string): string {
  console.warn(`no words for ${id}`); // the browser suite takes this for a fault
  return spaced(id);
}

function find(from: keyof Words, key: string): string | undefined {
  const own = words[from][key];
  if (own !== undefined) return own;
  const other = english[from][key];
  if (other !== undefined) console.warn(`no words for ${key} in ${language}: shown in English`);
  return other;
}

/** The page's own words. */
export function say(id: string, args: Arguments = {}): string {
  const pattern = find('page', id);
  return pattern === undefined ? withoutWords(id) : filled(pattern, args);
}

export const hasMessage = (group: string, id: string) => `${group}.${id}` in english.shared;

/** The words of an id in an answer. */
export function message(group: string, id: string, args: Arguments = {}): string {
  const pattern = find('shared', `${group}.${id}`);
  return pattern === undefined ? withoutWords(id) : filled(pattern, args);
}

const asWritten = /^(\d.*|(A|B|AB|O)[+-])$/; // numbers, times and blood groups are their own names

/** A drug, segment, place ...; understands what the core puts together ("a+b", "a>b", "allergy:x", "facility:x"). */
export function nameOf(id: string): string {
  const name = find('shared', `name.${id}`);
  if (name !== undefined) return name;
  if (asWritten.test(id)) return isolated(id, 'ltr');
  const [plus, to] = [id.indexOf('+'), id.indexOf('>')];
  if (plus >= 0) return message('name', 'and', { first: nameOf(id.slice(0, plus)), second: nameOf(id.slice(plus + 1)) });
  if (to >= 0) return message('name', 'from_to', { first: nameOf(id.slice(0, to)), second: nameOf(id.slice(to + 1)) });
  if (id.startsWith('allergy:')) return message('name', 'allergy', { about: nameOf(id.slice('allergy:'.length)) });
  if (id.startsWith('facility:'))
    return spaced(id.slice('facility:'.length)).replace(/(^| )[a-z]/g, (letter) => letter.toUpperCase());
  return withoutWords(id);
}

/** A word that means another thing elsewhere: "name.surgery.closed" before "name.closed". */
export function nameIn(context: string, id: string): string {
  return (id !== '' && find('shared', `name.${context}.${id}`)) || nameOf(id);
}

export const listOf = (ids: string, separator: string) =>
  ids.split(/[ ,]+/).filter(Boolean).map(nameOf).join(message('name', separator));

/** Why advice was not followed, in the page's words where it offered them. */
export const whyText = (why: string) => (`why.${why}` in english.page ? say(`why.${why}`).toLocaleLowerCase(language) : why);

/** With a capital at the start, as a line by itself. */
export const sentence = (text: string) => text.replace(/^[\u2066-\u2069]*\p{L}/u, (start) => start.toLocaleUpperCase(language));

/** A list in one line, with the language's own comma. */
export const commas = (parts: string[]) => parts.join(message('name', 'comma'));
