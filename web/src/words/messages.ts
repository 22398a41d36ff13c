// Words for people. Ids in answers are looked up in the catalogue that the command line uses too (i18n/en.json); the
// page's own words are in en.json beside this file. An id without a message is shown as its own words, never dropped.
import { IntlMessageFormat } from 'intl-messageformat';
import catalogue from '../../../i18n/en.json';
import own from './en.json';

export type Arguments = Record<string, string | number>;

const language = 'en';
const shared = catalogue as Record<string, string>;
const page = own as Record<string, string>;
// Looking up what the browser knows of a language is slow on a phone: once for all messages, not once a message.
const locale = IntlMessageFormat.resolveLocale([language]);
IntlMessageFormat.resolveLocale = () => locale;

type Fill = (args: Arguments) => string;
const fills = new Map<string, Fill>();
const onlyNames = /^(?:[^{}'<#]|\{\s*\w+\s*\})*$/; // no plural, choice, quote or tag: nothing to parse

function fillOf(pattern: string): Fill {
  if (onlyNames.test(pattern)) return (args) => pattern.replace(/\{\s*(\w+)\s*\}/g, (_, name: string) => String(args[name] ?? ''));
  const format = new IntlMessageFormat(pattern, language);
  const names = pattern.match(/(?<=\{\s*)\w+/g) ?? [];
  return (args) => String(format.format(Object.fromEntries(names.map((name) => [name, args[name] ?? '']))));
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

/** The page's own words. */
export function say(id: string, args: Arguments = {}): string {
  const pattern = page[id];
  return pattern === undefined ? withoutWords(id) : filled(pattern, args);
}

export const hasMessage = (group: string, id: string) => `${group}.${id}` in shared;

/** The words of an id in an answer. */
export function message(group: string, id: string, args: Arguments = {}): string {
  const pattern = shared[`${group}.${id}`];
  return pattern === undefined ? withoutWords(id) : filled(pattern, args);
}

const asWritten = /^(\d.*|(A|B|AB|O)[+-])$/; // numbers, times and blood groups are their own names

/** A drug, segment, place ...; understands what the core puts together ("a+b", "a>b", "allergy:x", "facility:x"). */
export function nameOf(id: string): string {
  const name = shared[`name.${id}`];
  if (name !== undefined) return name;
  if (asWritten.test(id)) return id;
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
  return id !== '' && shared[`name.${context}.${id}`] !== undefined ? shared[`name.${context}.${id}`]! : nameOf(id);
}

export const listOf = (ids: string, separator: string) =>
  ids.split(/[ ,]+/).filter(Boolean).map(nameOf).join(message('name', separator));

/** Why advice was not followed, in the page's words where it offered them. */
export const whyText = (why: string) => (`why.${why}` in page ? say(`why.${why}`).toLowerCase() : why);

/** With a capital at the start, as a line by itself. */
export const sentence = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);
