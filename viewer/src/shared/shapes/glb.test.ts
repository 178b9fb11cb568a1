import assert from 'node:assert/strict';
import { test } from 'node:test';
import { readGlb } from './glb.ts';

/** A file as the server writes it: a plate of a triangle with its edge, and a pane. */
function file(): ArrayBuffer {
  const places = new Float32Array([0, 0, 0, 1, 0, 0, 0, 2, 3]);
  const indices = new Uint16Array([0, 1, 2, 0, 0, 1]);
  const blob = new Uint8Array(places.byteLength + indices.byteLength);
  blob.set(new Uint8Array(places.buffer), 0);
  blob.set(new Uint8Array(indices.buffer), places.byteLength);
  const faces = { attributes: { POSITION: 0 }, indices: 1 };
  const edge = { attributes: { POSITION: 0 }, indices: 2, mode: 1 };
  const gltf = {
    nodes: [
      { children: [1, 2] },
      { mesh: 0, extras: { id: 'house.side', kind: 'plate' } },
      { mesh: 1, extras: { id: 'house.side.pane-0' } },
    ],
    meshes: [
      { primitives: [{ ...faces, material: 0 }, edge] },
      { primitives: [{ ...faces, material: 1 }] },
    ],
    materials: [{ name: 'steel' }, { name: 'glass' }],
    accessors: [
      { bufferView: 0, componentType: 5126, count: 3 },
      { bufferView: 1, componentType: 5123, count: 3 },
      { bufferView: 1, byteOffset: 8, componentType: 5123, count: 2 },
    ],
    bufferViews: [{ byteLength: 36 }, { byteOffset: 36, byteLength: 12 }],
  };
  const json = new TextEncoder().encode(JSON.stringify(gltf).padEnd(1024));
  const glb = new Uint8Array(20 + json.length + 8 + blob.length);
  new DataView(glb.buffer).setUint32(12, json.length, true);
  glb.set(json, 20);
  glb.set(blob, 28 + json.length);
  return glb.buffer;
}

test('a plate, its edge and a pane are read, in the axes of the scene', () => {
  const { plates, surface, panes, edges, bars } = readGlb(file());
  assert.deepEqual(
    plates.map(({ id, faces }) => [id, faces]),
    [['house.side', 1]],
  );
  assert.deepEqual([...surface.positions], [0, 0, -0, 1, 0, -0, 0, 3, -2]);
  assert.deepEqual([...surface.corners], [0, 1, 2]);
  assert.equal(panes?.corners.length, 3);
  assert.deepEqual([edges.length, bars.length], [6, 0]);
});
