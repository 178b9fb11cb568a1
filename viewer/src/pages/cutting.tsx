/** The Cutting page: plates flat and in the boat, sheets, what to buy, how far the steel is. */
import { useState } from 'preact/hooks';
import { ComesOff } from '../components/cutting/comes-off.tsx';
import { PackFiles } from '../components/cutting/files.tsx';
import { PartStages, PieceList } from '../components/cutting/list.tsx';
import { Nests } from '../components/cutting/nests.tsx';
import { PlateFlat, PlateInBoat } from '../components/cutting/plate.tsx';
import { Openings } from '../components/cutting/opening.tsx';
import { PackState } from '../components/cutting/state.tsx';
import { Bars, Purchase, Seams } from '../components/cutting/tables.tsx';
import { useCutting } from '../components/cutting/use-cutting.ts';
import { Findings } from '../components/findings.tsx';
import { PageHead } from '../components/page-head.tsx';

export function CuttingPage() {
  const shop = useCutting();
  const { answer } = shop;
  const [chosen, pick] = useState<string>();
  const piece = answer?.pieces.find((one) => one.id === chosen) ?? answer?.pieces[0];
  return (
    <div class="page cutting">
      <PageHead title="Cutting">
        <PackState shop={shop} />
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
            {shop.far.size > 0 && (
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
