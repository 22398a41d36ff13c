// The shape of each priority, beside its colour.
export const marks: Record<string, string> = { high: '!', medium: '^', low: '-' };
