/** Headroom and the line of sight in figures that open, and the choice whether the person is drawn. */
import type { ComponentChildren } from 'preact';
import type { PersonResult, SightResult } from '../../contract.ts';
import { useBoat, useRoute } from '../../session/context.tsx';
import { hashOf } from '../../session/route.ts';
import {
  blindWords,
  changeWords,
  type HouseHeadroom,
  housesOf,
  sectorsWords,
  shortWords,
  sightsIn,
} from '../answer/person.ts';
import { ExplainButton } from '../explain/explain-button.tsx';
import { quantity } from '../words/numbers.ts';
import { plainWords } from '../words/plain-words.ts';
import { usePersonShown } from './person.tsx';

export function PersonPanel() {
  const { working } = useBoat();
  const { route } = useRoute();
  const { person } = working.assessment;
  const entered = hashOf({ ...route, page: 'boat', section: 'person' });
  return (
    <section class="person-panel" aria-label="Person aboard">
      <h2>Person aboard</h2>
      {person ? (
        <Figures person={person} entered={entered} />
      ) : (
        <p>
          No headroom or line of sight yet:{' '}
          <a href={entered}>enter a person’s height and the cabin sole</a>.
        </p>
      )}
    </section>
  );
}

function Figures({ person, entered }: { person: PersonResult; entered: string }) {
  const { condition } = useBoat();
  const [shown, show] = usePersonShown();
  const sights = sightsIn(person, condition);
  return (
    <>
      <label>
        <input type="checkbox" checked={shown} onChange={(e) => show(e.currentTarget.checked)} />{' '}
        Draw the person, {quantity(person.height_m, 'm', 0.01)}, in the profile
      </label>
      <dl>
        {housesOf(person).map((house) => (
          <House key={house.now.id} house={house} />
        ))}
        {sights.map((sight) => (
          <Sight key={`${sight.stage}${sight.posture}`} sight={sight} person={person} />
        ))}
      </dl>
      {person.headroom.length === 0 && <p>There is no house to stand in.</p>}
      {person.helms.length === 0 && <p>The position of the helm is not known.</p>}
      {(person.sole_given === 'assumed' || person.helms.some((h) => h.given === 'assumed')) && (
        <p class="assumed">
          {assumedWords(person)} assumed. <a href={entered}>Enter what you measured</a>.
        </p>
      )}
    </>
  );
}

function assumedWords(person: PersonResult): string {
  const sole = person.sole_given === 'assumed' && person.sole.length > 0;
  const helm = person.helms.some((h) => h.given === 'assumed');
  if (sole && helm) return 'The cabin sole and the helm are';
  return sole ? 'The cabin sole is' : 'The helm is';
}

function House({ house: { now, before } }: { house: HouseHeadroom }) {
  if (now.least_m === null) return null;
  const path = `person.headroom.${now.id}.${now.stage}`;
  return (
    <div>
      <dt>Headroom, {plainWords(now.id)}</dt>
      <dd>
        <Opens title="Least headroom" path={`${path}.least_m`}>
          {quantity(now.least_m, 'm', 0.01)} least
        </Opens>
        {now.least_off_centre_m !== null && (
          <>
            ,{' '}
            <Opens title="Headroom off the centreline" path={`${path}.least_off_centre_m`}>
              {quantity(now.least_off_centre_m, 'm', 0.01)}
            </Opens>{' '}
            {quantity(300, 'mm', 1)} off the centreline
          </>
        )}
        {before?.least_m != null && `; ${quantity(before.least_m, 'm', 0.01)} before`}
        <br />
        {shortWords(now)}
      </dd>
    </div>
  );
}

function Sight({ sight, person }: { sight: SightResult; person: PersonResult }) {
  const path = `person.sights.${sight.id}.${sight.stage}.${sight.posture}`;
  const found = sight.stage === 'as_found';
  const limits = sectorsWords(
    person.hidden.filter((h) => h.stage === sight.stage && h.posture === sight.posture),
  );
  return (
    <div>
      <dt>
        From the helm, {sight.posture}
        {found && ', as found'}
      </dt>
      <dd>
        {sight.blind_m === null ? (
          blindWords(sight)
        ) : (
          <Opens title="Water hidden ahead" path={`${path}.blind_m`}>
            {blindWords(sight)}
          </Opens>
        )}
        {!found &&
          sight.changes
            .filter((c) => changeWords(c, sight) !== '')
            .map((c) => <p key={c.id}>{changeWords(c, sight)}</p>)}
        {!found && limits !== '' && <p>View limited by {limits}</p>}
      </dd>
    </div>
  );
}

interface FigureOpensProps {
  readonly title: string;
  readonly path: string;
  readonly children: ComponentChildren;
}

const Opens = ({ title: name, path, children }: FigureOpensProps) => (
  <ExplainButton explained={{ title: name, path }}>{children}</ExplainButton>
);
