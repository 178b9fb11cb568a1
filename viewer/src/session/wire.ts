/** JSON gets its type here, where it arrives; that it is of this type its writer answers for. */

export const parsed = <T>(json: string): T => JSON.parse(json) as T;

/** What a response holds; nothing where it has no content. */
export const answerIn = async <T>(response: Response): Promise<T> =>
  (response.status === 204 ? undefined : await response.json()) as T;
