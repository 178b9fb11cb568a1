import assert from 'node:assert/strict';
import { test } from 'node:test';
import { clipKind, endingOf } from './clip.ts';

test('a video is of the best kind the browser can write, and its file is named for it', () => {
  assert.equal(
    clipKind(() => true),
    'video/webm;codecs=vp9',
  );
  assert.equal(
    clipKind((kind) => kind === 'video/mp4'),
    'video/mp4',
  );
  assert.equal(
    clipKind(() => false),
    undefined,
  );
  assert.equal(endingOf('video/webm;codecs=vp9'), 'webm');
  assert.equal(endingOf('video/mp4'), 'mp4');
});
