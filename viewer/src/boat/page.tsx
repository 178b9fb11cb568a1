/** The Boat page: everything that is known of her, section by section, to be entered and edited. */
import { useBoat, useEditing, useRoute } from '../session/context.tsx';
import { hashOf } from '../session/route.ts';
import { findingsAt } from '../shared/answer/findings.ts';
import { roomsOf } from '../shared/boat/rooms.ts';
import { isSectionId, SECTION_IDS, SECTIONS, type SectionId } from '../shared/boat/sections.ts';
import { Findings } from '../shared/feedback/finding-list.tsx';
import { WhenEditable } from '../shared/fields/editing.tsx';
import { FieldAt, GroupForm, useDocumentField } from '../shared/fields/form.tsx';
import { RaiseHouses } from '../shared/input/raise-house.tsx';
import { PageProfile } from '../shared/profile/page-head.tsx';
import { reworded } from '../shared/words/sentences.ts';
import { HullFigures } from './hull-figures.tsx';
import { KeelSection } from './keel.tsx';
import { LinesSection } from './lines.tsx';
import { OpeningsSection } from './openings.tsx';
import { SurveySection } from './survey.tsx';

export function BoatPage() {
  const { route } = useRoute();
  const { document } = useBoat();
  const section = route.section ?? 'lines';
  return (
    <div class="page">
      <div class="boat-page">
        <nav class="sections" aria-label="Sections">
          {SECTION_IDS.map((id) => (
            <a
              key={id}
              href={hashOf({ ...route, section: id })}
              {...(id === section ? { 'aria-current': 'true' as const } : {})}
            >
              {SECTIONS[id].title}
            </a>
          ))}
        </nav>
        <section aria-label={SECTIONS[section].title} data-section={section}>
          <h2>{SECTIONS[section].title}</h2>
          <p class="lead">{reworded(SECTIONS[section].about)}</p>
          <SectionContent section={section} />
        </section>
        <div class={`boat-drawing ${section === 'freeboards' ? 'grasped' : ''}`}>
          <PageProfile
            rooms={roomsOf(document, section)}
            grasped={section === 'freeboards' ? 'marks' : 'nothing'}
          />
        </div>
        <ThumbBar section={section} />
      </div>
    </div>
  );
}

/** On a phone the sections and undo lie where the thumb is. */
function ThumbBar({ section }: { section: SectionId }) {
  const { working } = useBoat();
  const { session } = useEditing();
  const { go } = useRoute();
  return (
    <div class="thumb-bar">
      <select
        aria-label="Section"
        value={section}
        onChange={(e) => {
          const { value } = e.currentTarget;
          if (isSectionId(value)) go({ section: value });
          scrollTo(0, 0);
        }}
      >
        {SECTION_IDS.map((id) => (
          <option key={id} value={id}>
            {SECTIONS[id].title}
          </option>
        ))}
      </select>
      <WhenEditable>
        <button
          type="button"
          disabled={!working.can_undo}
          title={working.undo_label}
          onClick={() => session.undoOrRedo('undo')}
        >
          Undo
        </button>
      </WhenEditable>
    </div>
  );
}

function SectionContent({ section }: { section: SectionId }) {
  switch (section) {
    case 'lines':
      return <LinesSection />;
    case 'keel':
      return <KeelSection />;
    case 'openings':
      return <OpeningsSection />;
    case 'freeboards':
      return <SurveySection />;
    case 'changes':
      return (
        <>
          <SectionForm paths={SECTIONS[section].paths} />
          <RaiseHouses />
        </>
      );
    case 'hydrostatics':
      return <HullFigures />;
    default:
      return <SectionForm paths={SECTIONS[section].paths} />;
  }
}

/** The fields of some paths of the document. */
function SectionForm({ paths }: { paths: readonly string[] }) {
  return (
    <>
      {paths.map((path) => (
        <PathForm key={path} path={path} isAlone={paths.length === 1} />
      ))}
    </>
  );
}

interface PathProps {
  readonly path: string;
  /** Whether its section has nothing else, and its heading stands for it. */
  readonly isAlone: boolean;
}

function PathForm({ path, isAlone }: PathProps) {
  const { working } = useBoat();
  const field = useDocumentField(path);
  const findings = findingsAt(working.assessment.findings, path);
  return (
    <>
      <Findings findings={findings.filter((found) => found.place === path)} />
      {field?.kind === 'group' && isAlone && <GroupForm path={path} field={field} />}
      {field && !(field.kind === 'group' && isAlone) && <FieldAt field={field} path={path} />}
    </>
  );
}
