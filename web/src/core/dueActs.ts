// What a tap on a due row does: writes the one entry that the row asks for (DONE), or opens the pad where it is written
// (GO). Which acts are due, and with which figures, is the core's alone.
import type { Choices, Due, UsualDose } from './answers.ts';

export type DueAct =
  | { go: string; subject?: string }
  | { done: { kind: string; payload: Record<string, unknown> } };

const manoeuvres: Record<string, string> = {
  massage_uterus: 'massage',
  empty_bladder: 'bladder_emptied',
  take_bloods: 'bloods_taken',
  examine_tract: 'tract_examined',
  examine_placenta: 'placenta_examined',
  keep_warm: 'warm',
  give_oxygen: 'oxygen',
  lay_flat: 'position',
  put_in_catheter: 'catheter',
  do_clot_test: 'clot_test',
  remove_placenta: 'manual_removal',
  repair_tear: 'tear_repaired',
  replace_inversion: 'inversion_replaced',
  take_balloon_out: 'balloon_out',
};

const pads: Record<string, [string, string?]> = {
  take_vitals: ['vitals'],
  take_full_set: ['vitals'],
  complete_set: ['vitals'],
  repeat_vitals: ['vitals'],
  take_vitals_before_opening: ['vitals'],
  take_temperature: ['vitals'],
  check_consciousness: ['vitals'],
  check_breathing: ['did', 'look'],
  measure_loss: ['loss'],
  measure_urine: ['urine'],
  take_hb: ['results'],
  read_clot_test: ['results'],
  give_crystalloid: ['gave', 'fluid'],
  give_red_cells: ['gave', 'blood'],
  give_plasma: ['gave', 'blood'],
  give_platelets: ['gave', 'blood'],
  give_fibrinogen: ['gave', 'blood'],
  give_calcium: ['gave', 'other'],
  give_antibiotic: ['gave', 'other'],
  choose_uterotonic: ['gave', 'womb'],
  wrap_now: ['wrap'],
  close_next_segment: ['wrap'],
  open_segment: ['wrap'],
  reclose_all: ['wrap'],
  reclose_after_theatre: ['wrap'],
  check_tension: ['wrap'],
  tighten_panel: ['wrap'],
  loosen_segment: ['wrap'],
  take_garment_off: ['wrap'],
  remove_garment_now: ['wrap'],
  cut_or_reclose: ['wrap'],
  review_wear: ['wrap'],
  leave_for_hospital: ['move'],
  hand_over: ['move'],
  read_back: ['move'],
  call_ahead: ['move'],
  confirm_before_leaving: ['move'],
  state: ['move'],
  call_people: ['did', 'people'],
  call_doctor: ['did', 'people'],
  answer_causes: ['did', 'look'],
  check_skin: ['did', 'look'],
};

/** The dose a due row names, with the rest of how the ward gives it. */
export function usualFor(choices: Choices, drugId: string, named: { dose?: unknown; route?: unknown }): UsualDose | undefined {
  const usual = choices.drugs.find((drug) => drug.id === drugId)?.usual.filter((one) => one.use === 'treatment') ?? [];
  const fits = (one: UsualDose) =>
    (named.dose === undefined || one.dose === named.dose) && (named.route === undefined || one.route === named.route);
  return usual.find((one) => fits(one) && one.default) ?? usual.find(fits);
}

export function dosePayload(drug: string, usual: UsualDose): Record<string, unknown> {
  return {
    drug,
    dose: usual.dose,
    unit: usual.unit,
    route: usual.route,
    use: usual.use,
    ...(usual.infusion ? { infusion: usual.infusion } : {}),
  };
}

export function dueAct(due: Due, choices: Choices): DueAct {
  const manoeuvre = manoeuvres[due.id];
  if (manoeuvre) return { done: { kind: 'manoeuvre', payload: { what: manoeuvre } } };
  if (due.id === 'put_in_line') return { done: { kind: 'manoeuvre', payload: { what: `iv_access_${due.about}` } } };
  if (due.id === 'change_hands' && due.about) return { done: { kind: 'manoeuvre', payload: { what: due.about } } };
  if (due.id === 'call_help') return { done: { kind: 'call', payload: { who: 'help', state: 'called' } } };
  if (due.id === 'activate_major_haemorrhage')
    return { done: { kind: 'call', payload: { who: 'major_haemorrhage', state: 'called' } } };
  if (due.id === 'warn_anaesthetist')
    return { done: { kind: 'finding', payload: { what: 'anaesthetist_warned', value: 'yes' } } };
  const drug = String(due.arguments?.drug ?? due.about ?? '');
  if (due.id.startsWith('give_') && choices.drugs.some((one) => one.id === drug)) {
    const usual = usualFor(choices, drug, { dose: due.arguments?.dose, route: due.arguments?.route });
    return usual ? { done: { kind: 'drug', payload: dosePayload(drug, usual) } } : { go: 'gave', subject: drug };
  }
  const [go, subject] = pads[due.id] ?? ['did', 'first'];
  return { go, subject };
}

export const declinedName = (due: Due) => (due.about ? `${due.id}:${due.about}` : due.id);
