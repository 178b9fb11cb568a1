/** What a mesh is; `before` is the outline of what is not so any more, seen through all. */
export type MeshRole = 'hull' | 'appendage' | 'new' | 'replaced' | 'existing' | 'before';

export const isGone = (role: MeshRole) => role === 'replaced' || role === 'before';
export const isHull = (role: MeshRole) => role === 'hull' || role === 'appendage';

/** What a piece is drawn by: the same steel is drawn otherwise where it is to be replaced. */
export const drawnAs = ({ role, mesh }: { readonly role: string; readonly mesh: string }): string =>
  `${role} ${mesh}`;
