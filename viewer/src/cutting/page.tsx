/** The Cutting page: plates flat and in the boat, sheets, what to buy, how far the steel is. */
import { useState } from 'preact/hooks';
import { Findings } from '../shared/feedback/finding-list.tsx';
import { PageHead } from '../shared/profile/page-head.tsx';
import { ComesOff } from './comes-off.tsx';
import { PackFiles } from './files.tsx';
import { PartStages, PieceList } from './list.tsx';
import { Nests } from './nests.tsx';
import { Openings } from './opening.tsx';
import { PlateFlat, PlateInBoat } from './plate.tsx';
import { PackHolds, PackPreview } from './preview.tsx';
import { PackState } from './state.tsx';
import { Bars, Purchase, Seams } from './tables.tsx';
import { useCutting } from './use-cutting.ts';

export function CuttingPage() {
  const shop = useCutting();
  const { answer } = shop;
  const [chosen, pick] = useState<string>();
  const piece = answer?.pieces.find((one) => one.id === chosen) ?? answer?.pieces[0];
  const isUnmade = shop.status?.nests === 'none';
  return (
    <div class="page cutting">
      <PageHead title="Cutting" under={isUnmade && <PackHolds />}>
        <PackState shop={shop} />
        {isUnmade && <PackPreview />}
      </PageHead>
      {answer && (
        <>
          <Findings findings={answer.findings.filter((one) => one.severity !== 'note')} />
          {piece && (
            <>
              <div class="cut-middle">
                <PieceList shop={shop} pieces={answer.pieces} picked={piece.id} pick={pick} />
                <div class="plate-both">
                  <PlateFlat piece={piece} />
                  <PlateInBoat answer={answer} piece={piece} pick={pick} />
                </div>
              </div>
              <Nests answer={answer} picked={piece.id} pick={pick} />
            </>
          )}
          <ComesOff answer={answer} />
          <Openings answer={answer} />
          <div class="cut-tables">
            {shop.progressByPiece.size > 0 && (
              <>
                <Purchase answer={answer} />
                <PartStages shop={shop} />
              </>
            )}
            <Bars answer={answer} shop={shop} />
            <Seams answer={answer} />
            <PackFiles shop={shop} />
          </div>
          <Findings findings={answer.findings.filter((one) => one.severity === 'note')} />
        </>
      )}
    </div>
  );
}
