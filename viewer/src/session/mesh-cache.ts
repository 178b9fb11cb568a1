/** Meshes by the path that names their content: each is asked for once, as early as it is known. */
import type { ScenePart } from '../contract.ts';

const KEPT = 80;

export class Meshes {
  private readonly ask: (path: string) => Promise<ArrayBuffer>;
  private readonly asked = new Map<string, Promise<ArrayBuffer>>();

  constructor(ask: (path: string) => Promise<ArrayBuffer>) {
    this.ask = ask;
  }

  /** Takes what was sent along, asks for what is not there yet, before anything is drawn. */
  expect(scene: readonly Pick<ScenePart, 'mesh' | 'glb'>[]): void {
    for (const { mesh, glb } of scene) {
      if (glb && !this.asked.has(mesh)) this.asked.set(mesh, Promise.resolve(bytesOf(glb)));
      this.of(mesh).catch(() => undefined);
    }
  }

  /** The mesh of a path; a failed one may be asked for again. */
  readonly of = (path: string): Promise<ArrayBuffer> => {
    const known = this.asked.get(path);
    this.asked.delete(path);
    const mesh = known ?? this.ask(path);
    this.asked.set(path, mesh);
    if (!known) mesh.catch(() => this.asked.delete(path));
    for (const oldest of this.asked.keys()) {
      if (this.asked.size <= KEPT) break;
      this.asked.delete(oldest);
    }
    return mesh;
  };
}

function bytesOf(base64: string): ArrayBuffer {
  const text = atob(base64);
  const bytes = new Uint8Array(text.length);
  for (let i = 0; i < text.length; i += 1) bytes[i] = text.charCodeAt(i);
  return bytes.buffer;
}
