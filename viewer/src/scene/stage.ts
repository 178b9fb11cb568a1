/** What a view is made of, readied for a picture of it. */
import { Matrix3, Vector3 } from 'three';
import type { Afloat } from './afloat.ts';
import type { Camera } from './camera.ts';
import type { Drawing } from './look/drawing.ts';
import type { Finishes } from './look/finishes.ts';
import type { DrawingLook } from './look/ladder.ts';
import type { Palette } from './look/palette.ts';
import type { Stroke } from './look/strokes.ts';
import type { WeightBoxes } from './look/weight-boxes.ts';
import type { Pieces } from './pieces.ts';
import type { Section } from './section.ts';

interface StageParts {
  readonly canvas: HTMLCanvasElement;
  readonly camera: Camera;
  readonly drawing: Drawing;
  readonly pieces: Pieces;
  readonly afloat: Afloat;
  readonly finishes: Finishes;
  readonly weightBoxes: WeightBoxes;
}

export class Stage {
  readonly parts: StageParts;
  section: Section | undefined;

  constructor(parts: StageParts) {
    this.parts = parts;
  }

  /** All lines that are drawn. */
  get strokes(): readonly Stroke[] {
    const { pieces, afloat, weightBoxes } = this.parts;
    const section = this.section ? [this.section.outline] : [];
    const onPieces = pieces.all.flatMap((piece) => piece.strokes);
    const inside = weightBoxes.group.visible ? weightBoxes.strokes : [];
    return [...onPieces, ...afloat.strokes, ...inside, ...section];
  }

  /** Colours all but the pieces' own for a paper, until they are coloured for another. */
  dress(palette: Palette): void {
    const { pieces, afloat, finishes, weightBoxes } = this.parts;
    pieces.dress(palette);
    this.section?.paint(palette.touch);
    finishes.colours(palette);
    afloat.paint(palette);
    for (const one of weightBoxes.strokes) one.ink(palette.ink);
  }

  /** Before each picture: lines so many times as broad, outlines as she is seen. */
  prepare(look: DrawingLook, times = 1): void {
    const { camera, afloat, pieces } = this.parts;
    this.section?.face(camera.direction, afloat.boat.matrix);
    for (const one of this.strokes) one.weigh(look.broad, times);
    afloat.hasShadow = look.shadows;
    const turn = new Matrix3().setFromMatrix4(afloat.boat.matrix).transpose();
    const own = new Vector3(...camera.direction).applyMatrix3(turn).toArray();
    pieces.face(own);
    afloat.seenFrom(own);
  }
}
