// The shapes of the core's answers (docs/formats/advice.md), as far as the page reads them. Names are the wire's.

export type Permission = 'allowed' | 'warned' | 'needs_override' | 'needs_senior' | 'never';
export type Priority = 'high' | 'medium' | 'low';
export type Standing = 'soon' | 'due' | 'overdue' | 'late';

export interface Limit {
  id: string;
  value: number | string;
  compare?: string;
  unit?: string;
  source?: string;
  status?: string;
}

export interface Reason {
  id: string;
  rule?: string;
  about?: string;
  seen?: number;
  at?: string;
  limit?: Limit;
}

export interface Verdict {
  permission: Permission;
  reasons: Reason[];
  allowed_at?: string;
  second_person?: boolean;
  ask?: string[];
}

export interface Due {
  id: string;
  about?: string;
  priority: Priority;
  standing: Standing;
  due_at?: string;
  late_at?: string;
  arguments?: Record<string, number | string>;
  reasons: Reason[];
}

export interface Guard extends Verdict {
  act: string;
  about?: string;
}

export interface Watch {
  id: string;
  about?: string;
  limit?: number;
  crossed?: string;
  unit?: string;
  by?: string;
  reasons: Reason[];
}

export interface Notice {
  id: string;
  about?: string;
  priority: Priority;
  reasons: Reason[];
}

export interface Seen {
  value: number | string;
  at: string;
}

export interface Panel {
  state: string;
  since?: string;
  why?: string;
}

export interface Known {
  woman?: {
    label?: string;
    birth_at?: string;
    birth_estimated?: boolean;
    minutes_since_birth?: number;
    birth_mode?: string;
    weight_kg?: number;
    height_cm?: number;
    blood_group?: string;
    cautions?: string[];
    placenta?: string;
  };
  place?: { where?: string; state?: string; since?: string };
  signs?: Record<string, Seen | boolean>;
  shock_index?: { index?: number; band?: string };
  perfusion?: { in_shock?: string };
  loss?: { total_ml?: number; at?: string; mostly_estimated?: boolean; likely?: { low_ml: number; high_ml: number } };
  garment?: {
    on?: boolean;
    placed_at?: string;
    garment_id?: string;
    panels?: Record<string, Panel>;
    complete?: boolean;
    next_to_close?: string;
  };
  wear?: { worn_min?: number };
  theatre?: { under_way?: boolean; cut?: boolean; planned_at?: string };
  readiness?: { ready?: string; conditions?: { id: string; met: string; rule: string }[]; ask?: string[] };
  unwrap?: {
    under_way?: boolean;
    opened?: string[];
    next?: string;
    verdict?: string;
    reasons?: Reason[];
    wait_ends?: string;
    reclose_order?: string[];
  };
}

export interface Advice {
  format: string;
  now: string;
  phase: string;
  urgency: number[];
  due: Due[];
  guards: Guard[];
  watch: Watch[];
  unknown: { id: string; rules: string[] }[];
  notices: Notice[];
  next_change?: string;
  protocol: { name: string; version: string; hash: string; approved: unknown };
  known: Known;
}

export interface Problem {
  code: string;
  field: string;
  value: string;
  allowed: string;
  sentence: string;
}

export interface FieldRange {
  type: string;
  low?: number;
  high?: number;
  unit?: string;
  words?: string[];
  usual_low?: number;
  usual_high?: number;
}

export interface UsualDose {
  id: string;
  use: string;
  dose: number;
  unit: string;
  route: string;
  infusion?: { ml: number; over_min: number };
  drops_per_min?: number;
  default: boolean;
  follows?: string;
  when?: string;
}

export interface DrugChoice {
  id: string;
  purpose: string;
  unit: string;
  routes: string[];
  never_routes: string[];
  second_check: boolean;
  usual: UsualDose[];
}

export interface Choices {
  drugs: DrugChoice[];
  fluids: { id: string; class: string; usual: { ml: number; over_min: number }[] }[];
  products: { id: string; counted_in: string; usual: number[] }[];
  manoeuvres: { id: string; group: string }[];
  findings: { id: string; values: string[] }[];
  roles: string[];
  places: string[];
  cautions: string[];
  outcomes: string[];
  before_leaving: string[];
  segments: { id: string; paired: boolean }[];
  fields: Record<string, Record<string, FieldRange>>;
}
