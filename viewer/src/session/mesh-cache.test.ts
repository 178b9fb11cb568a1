import assert from 'node:assert/strict';
import { test } from 'node:test';
import { drawnAs } from '../scene/look/roles.ts';
import { Meshes } from './mesh-cache.ts';

const part = (mesh: string, glb = '') => ({ mesh, glb });

function rig() {
  const asked: string[] = [];
  const meshes = new Meshes(async (path) => {
    asked.push(path);
    if (path === 'bad') throw new Error('gone');
    return new ArrayBuffer(1);
  });
  return { asked, meshes };
}

test('a mesh is asked for once', async () => {
  const { asked, meshes } = rig();
  meshes.expect([part('a'), part('b')]);
  meshes.expect([part('b'), part('c')]);
  await meshes.of('a');
  assert.deepEqual(asked, ['a', 'b', 'c']);
});

test('one that was sent along is not asked for, nor taken twice', async () => {
  const { asked, meshes } = rig();
  meshes.expect([part('a', btoa('glTF\u00ff'))]);
  const sent = await meshes.of('a');
  assert.deepEqual([...new Uint8Array(sent)], [103, 108, 84, 70, 255]);
  meshes.expect([part('a', btoa('other'))]);
  assert.equal(await meshes.of('a'), sent);
  assert.deepEqual(asked, []);
});

test('a failed one is asked for again', async () => {
  const { asked, meshes } = rig();
  await assert.rejects(meshes.of('bad'));
  await assert.rejects(meshes.of('bad'));
  assert.deepEqual(asked, ['bad', 'bad']);
});

test('what was not needed for long is forgotten, what was lately is not', async () => {
  const { asked, meshes } = rig();
  await meshes.of('old');
  await meshes.of('used');
  for (let i = 0; i < 79; i += 1) {
    await meshes.of(`m${i}`);
    await meshes.of('used');
  }
  asked.length = 0;
  await meshes.of('used');
  await meshes.of('old');
  assert.deepEqual(asked, ['old']);
});

test('a part that is to be replaced is drawn otherwise, whatever its mesh', () => {
  const [before, after] = ['existing', 'replaced'].map((role) => drawnAs({ role, mesh: 'a' }));
  assert.notEqual(before, after);
});
