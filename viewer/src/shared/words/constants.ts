// Made by `make contract`; change the Python side, not this file.
export const PROVENANCES = ['weighed', 'drawn', 'catalogue', 'guessed'] as const;
export const CHANGE_STAGES = ['proposed', 'agreed', 'cut', 'fitted'] as const;
export const SHOP_STAGES = ['to cut', 'cut', 'checked', 'welded'] as const;
export const SHOP_STEPS = ['cut', 'checked', 'welded'] as const;
export const WATERS_KG_M3 = { salt: 1025, fresh: 1000 } as const;
export const STEEL_KG_M3 = 7850 as const;
export const MENTIONED_SD = 4 as const;
export const MOST_CONDITIONS = 100 as const;
export const CHANGE_GROUPS = ['removes', 'parts', 'adds', 'moves'] as const;
export const VERDICT_WORDS = {
  agreed: 'agreed',
  'agreed-with-conditions': 'agreed with conditions',
  'send-again': 'send again',
  'not-looked-at': 'not reviewed',
} as const;
export const NOT_SIGNED = 'Nobody has signed this.' as const;
export const NO_CONDITION =
  'List at least one condition with “agreed with conditions”, and none with any other verdict.' as const;
export const SURVEY = 'survey-state' as const;
export const AS_SURVEYED = 'as surveyed' as const;
