/** One of some words, as a field of the page or an address names it; undefined where none is. */
export const choiceOf = <Word extends string>(
  words: readonly Word[],
  named: unknown,
): Word | undefined => words.find((word) => word === named);
