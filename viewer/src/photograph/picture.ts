/** A picture prepared for keeping: no larger than is useful, without the camera’s data. */

/** Longest side that is kept [px]: a millimetre and a half of a 6 m boat that fills it. */
const LONGEST = 4096;
const LEAST = 300;
const LARGEST_MB = 100;
const QUALITY = 0.92;

interface Prepared {
  readonly file: File;
  /** What was done to it, in a sentence; empty where nothing was. */
  readonly words: string;
}

export async function prepared(given: File): Promise<Prepared> {
  if (given.size > LARGEST_MB * 1e6)
    throw new Error(`${given.name} is larger than ${LARGEST_MB} MB: choose a smaller picture.`);
  const read = await createImageBitmap(given).catch(() => {
    throw new Error(
      `${given.name} is not a picture that this browser can open: choose a JPEG or PNG.`,
    );
  });
  const { width, height } = read;
  if (Math.min(width, height) < LEAST)
    throw new Error(
      `${given.name} has only ${width} × ${height} pixels: choose a picture of ${LEAST} or more each way.`,
    );
  const share = Math.min(1, LONGEST / Math.max(width, height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.round(width * share);
  canvas.height = Math.round(height * share);
  canvas.getContext('2d')?.drawImage(read, 0, 0, canvas.width, canvas.height);
  read.close();
  const content = await new Promise<Blob | null>((done) =>
    canvas.toBlob(done, 'image/jpeg', QUALITY),
  );
  if (!content)
    throw new Error(`${given.name} is too large for this browser: make it smaller first.`);
  const words =
    share < 1
      ? `${given.name} has ${width} × ${height} pixels; it is kept at ${canvas.width} × ${canvas.height}.`
      : '';
  const name = `${given.name.replace(/\.\w+$/, '')}.jpg`;
  return { file: new File([content], name, { type: 'image/jpeg' }), words };
}
