/** Ctrl or Cmd Z everywhere: the field's own undo while something is typed in it, else the boat's. */

type UndoDirection = 'undo' | 'redo';

interface Press {
  readonly key: string;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
  readonly shiftKey: boolean;
  readonly altKey: boolean;
}

/** Which way a press of keys goes; undefined where it means something else. */
export function directionOf({
  key,
  ctrlKey,
  metaKey,
  shiftKey,
  altKey,
}: Press): UndoDirection | undefined {
  if (!(ctrlKey || metaKey) || altKey) return undefined;
  if (key.toLowerCase() === 'z') return shiftKey ? 'redo' : 'undo';
  return key.toLowerCase() === 'y' && ctrlKey && !shiftKey ? 'redo' : undefined;
}

const TYPED_IN = 'input:not([type=checkbox], [type=radio], [type=range], [type=file]), textarea';

/** Whether something stands in a field that was typed and not taken yet. */
function isTyping(target: EventTarget | null): boolean {
  const isField = target instanceof HTMLInputElement || target instanceof HTMLTextAreaElement;
  if (!isField || !target.matches(TYPED_IN)) return false;
  const { value, dataset } = target;
  return value !== (dataset.kept ?? '');
}

/** Calls back with every press that is the boat's; answers how to stop. */
export function onUndoKeys(undoOrRedo: (way: UndoDirection) => void): () => void {
  const press = (event: KeyboardEvent) => {
    const way = directionOf(event);
    if (way === undefined || event.defaultPrevented || isTyping(event.target)) return;
    event.preventDefault();
    if (!event.repeat) undoOrRedo(way);
  };
  addEventListener('keydown', press);
  return () => removeEventListener('keydown', press);
}
