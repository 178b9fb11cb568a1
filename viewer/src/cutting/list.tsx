/** The pieces of the pack, by thickness and stage, with their ticks. */
import { useState } from 'preact/hooks';
import type { CutPiece } from '../contract.ts';
import { useEditing, useRoute } from '../session/context.tsx';
import { tick } from '../session/cutting-api.ts';
import { keptName } from '../shared/comments/author.tsx';
import { ScrollBox } from '../shared/feedback/scroll-box.tsx';
import { WhenEditable } from '../shared/fields/editing.tsx';
import { SHOP_STAGES, SHOP_STEPS } from '../shared/words/constants.ts';
import { amount, thickness, thicknessWithUnit } from '../shared/words/numbers.ts';
import { count, plainWords } from '../shared/words/plain-words.ts';
import { THICKNESS_UNIT, unitSign } from '../shared/words/units.ts';
import type { CutPack } from './use-cutting.ts';
import { type Filter, filtered, offerWords, type ShopStep, thicknesses } from './words.ts';

interface Props {
  readonly shop: CutPack;
  readonly pieces: readonly CutPiece[];
  readonly picked: string | undefined;
  readonly pick: (id: string) => void;
}

export function PieceList({ shop, pieces, picked, pick }: Props) {
  const [filter, setFilter] = useState<Filter>({ thickness: undefined, stage: undefined });
  const shown = filtered(pieces, shop.progressByPiece, filter);
  return (
    <section aria-label="Plates">
      <div class="cut-filters">
        <h3>Plates</h3>
        <label>
          thickness
          <select
            value={filter.thickness ?? ''}
            onChange={(e) =>
              setFilter({ ...filter, thickness: Number(e.currentTarget.value) || undefined })
            }
          >
            <option value="">all</option>
            {thicknesses(pieces).map((mm) => (
              <option key={mm} value={mm}>
                {thicknessWithUnit(mm)}
              </option>
            ))}
          </select>
        </label>
        <label>
          stage
          <select
            value={filter.stage ?? ''}
            onChange={(e) => {
              const stage = SHOP_STAGES.find((one) => one === e.currentTarget.value);
              setFilter({ ...filter, stage });
            }}
          >
            <option value="">all</option>
            {SHOP_STAGES.map((stage) => (
              <option key={stage}>{stage}</option>
            ))}
          </select>
        </label>
        <span class="about" role="status">
          {count(shown.length, 'piece')}
        </span>
      </div>
      <ScrollBox class="cut-scroll" label="List of plates">
        <table class="cut-list">
          <thead>
            <tr>
              <th scope="col">mark</th>
              <th scope="col">part and plate</th>
              <th scope="col" class="n">
                {THICKNESS_UNIT}
              </th>
              <th scope="col" class="n">
                length × breadth, {unitSign('mm')}
              </th>
              <th scope="col" class="n">
                {unitSign('kg')}
              </th>
              <th scope="col">lift by</th>
              {SHOP_STEPS.map((step) => (
                <th key={step} scope="col">
                  {step}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {shown.map((piece) => (
              <tr key={piece.id} class={piece.id === picked ? 'picked' : ''}>
                <th scope="row">
                  <button
                    type="button"
                    class="quiet"
                    aria-pressed={piece.id === picked}
                    onClick={() => pick(piece.id)}
                  >
                    {piece.id}
                  </button>
                </th>
                <td>
                  {plainWords(piece.part)} {plainWords(piece.plate)}
                  {shop.progressByPiece.get(piece.id)?.is_other_shape && (
                    <small class="other-shape"> was cut before its shape changed</small>
                  )}
                </td>
                <td class="n">{thickness(piece.thickness_mm)}</td>
                <td class="n">
                  {amount(piece.length_mm, 'mm', 1)} × {amount(piece.breadth_mm, 'mm', 1)}
                </td>
                <td class="n">{amount(piece.mass_kg, 'kg', 0.1)}</td>
                <td>{piece.lift_by}</td>
                <Ticks shop={shop} id={piece.id} />
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollBox>
    </section>
  );
}

/** A box for each step of a piece or bar. */
export function Ticks({ shop, id }: { shop: CutPack; id: string }) {
  const { readOnly } = useEditing();
  const done = shop.progressByPiece.get(id)?.done ?? [];
  const [turning, setTurning] = useState<Partial<Record<ShopStep, boolean>>>({}); // not answered yet
  const turn = async (step: ShopStep, to: boolean) => {
    setTurning((others) => ({ ...others, [step]: to }));
    const author = keptName() || 'the owner';
    const ticks = [{ piece: id, step, done: to }];
    const what = `${id} ${to ? step : `not ${step}`}`;
    await shop.submit(tick(shop.source, { ticks, author }), what);
    setTurning(({ [step]: _, ...others }) => others);
  };
  return (
    <>
      {SHOP_STEPS.map((step) => {
        const word = done.find((one) => one.step === step);
        const by = word && `${word.written_at.slice(0, 10)} ${word.who} ${word.note}`;
        return (
          <td key={step} class="tick-cell">
            <label title={by}>
              <input
                type="checkbox"
                checked={turning[step] ?? word !== undefined}
                disabled={readOnly}
                onChange={(e) => void turn(step, e.currentTarget.checked)}
              />
              <span class="unseen">
                {id} {step}
              </span>
            </label>
          </td>
        );
      })}
    </>
  );
}

/** How far every part is. */
export function PartStages({ shop }: { shop: CutPack }) {
  const { session } = useEditing();
  const { route } = useRoute();
  const parts = shop.progress?.parts ?? [];
  const offers = route.option === null ? (shop.progress?.stages_offered ?? []) : [];
  return (
    <section aria-label="Progress of the parts">
      <h3>Progress of the parts</h3>
      <table>
        <thead>
          <tr>
            <th scope="col">part</th>
            <th scope="col">stage</th>
            {SHOP_STEPS.map((step) => (
              <th key={step} scope="col" class="n">
                {step}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {parts.map((part) => (
            <tr key={part.part}>
              <th scope="row">{plainWords(part.part)}</th>
              <td>{part.stage}</td>
              {[part.cut_count, part.checked_count, part.welded_count].map((n, at) => (
                <td key={SHOP_STEPS[at]} class="n">
                  {n} of {part.pieces_count}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
      {offers.length > 0 && (
        <WhenEditable>
          {offers.map((offer) => (
            <p key={offer.path}>{offerWords(offer)}</p>
          ))}
          <p class="pack-do">
            <button
              type="button"
              onClick={() =>
                session.send(
                  offers.map(({ path, stage }) => ({ op: 'set', path, value: stage })),
                  'stage by the cut list',
                )
              }
            >
              Set {offers.map(({ change, stage }) => `${change} to ${stage}`).join(', ')}
            </button>
          </p>
        </WhenEditable>
      )}
    </section>
  );
}
