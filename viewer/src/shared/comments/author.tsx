/** The name that stands beside what is written; a share link knows its reviewer's. */
import { useKnown } from '../../session/context.tsx';

const KEPT = 'hullchange.name';

/** The owner's name as it was given last. */
export function keptName(): string {
  try {
    return localStorage.getItem(KEPT) ?? '';
  } catch {
    return '';
  }
}

/** The name in a form, remembered for the next one. */
export function authorIn(data: FormData): string {
  const name = String(data.get('author') ?? '').trim();
  try {
    if (name) localStorage.setItem(KEPT, name);
  } catch {
    // asked again the next time
  }
  return name;
}

export function AuthorField() {
  const { visitor, inFile } = useKnown();
  if (visitor.role === 'reviewer' && !inFile) return null;
  return (
    <label>
      <span>your name</span>
      <input name="author" required maxLength={200} autocomplete="name" defaultValue={keptName()} />
    </label>
  );
}
