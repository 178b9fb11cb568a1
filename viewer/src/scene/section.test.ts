import assert from 'node:assert/strict';
import { test } from 'node:test';
import { Box3, BoxGeometry, Matrix4, Vector3 } from 'three';
import { heldStill } from './placing.ts';
import { Section } from './section.ts';

// 4 m along, 2 m up, 6 m across, about the origin of the scene
const box = new BoxGeometry(4, 2, 6);
const reach = (section: Section) => {
  const box = new Box3().setFromArray(section.outline.ends);
  return box.getSize(new Vector3()).toArray();
};

test('the outline of a box is its rectangle, at every kind of cut', () => {
  assert.deepEqual(reach(new Section({ kind: 'station', at: 1 }, [box])), [0, 2, 6]);
  assert.deepEqual(reach(new Section({ kind: 'waterline', at: 0.5 }, [box])), [4, 0, 6]);
  assert.deepEqual(reach(new Section({ kind: 'buttock', at: 2 }, [box])), [4, 2, 0]);
});

test('a buttock to starboard is cut to starboard, which is minus Z', () => {
  const { outline } = new Section({ kind: 'buttock', at: 2 }, [box]);
  assert.equal(outline.ends[2], -2);
});

test('what lies towards the eye is left out, the outline is not', () => {
  const section = new Section({ kind: 'station', at: 1 }, [box]);
  for (const [eye, kept] of [
    [1, 0],
    [-1, 2],
  ] as const) {
    section.face([eye, 0, 0], new Matrix4());
    assert.ok(section.plane.distanceToPoint(new Vector3(kept, 0, 0)) > 0);
    assert.ok(section.plane.distanceToPoint(new Vector3(2 - kept, 0, 0)) < 0);
    assert.ok(section.plane.distanceToPoint(new Vector3(1, 0, 0)) > 0);
  }
});

test('with her keel up the cut turns with her: looked at from above her bottom is left out', () => {
  const section = new Section({ kind: 'waterline', at: 0.5 }, [box]);
  section.face([0, 1, 0], heldStill(true));
  assert.ok(section.plane.distanceToPoint(new Vector3(0, -0.9, 0)) > 0);
  assert.ok(section.plane.distanceToPoint(new Vector3(0, 0.9, 0)) < 0);
});

test('off the boat nothing is cut', () => {
  assert.equal(new Section({ kind: 'station', at: 9 }, [box]).pieces, 0);
});
