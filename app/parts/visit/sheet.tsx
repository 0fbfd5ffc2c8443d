import './visit.css';
import type { ComponentChildren } from 'preact';
import type { Period } from '../../care/visit/period.ts';
import type { VisitSummary, WoundPart } from '../../care/visit/summary.ts';
import { formatShortDay } from '../../words/figures.ts';
import { formatList } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { Alerts } from './alerts.tsx';
import { Body } from './body.tsx';
import { Changes } from './changes.tsx';
import { Drainage } from './drainage.tsx';
import { Photos } from './photos.tsx';
import { Gaps, gapLines, Mentions, plansText, SeenList, Supplies } from './rest.tsx';
import { Size } from './size.tsx';
import { Part, Said, Second } from './speak.tsx';
import { nameOfWound, periodText, type VisitUnits } from './visit-words.ts';

export interface VisitSheetProps {
  summary: VisitSummary;
  units: VisitUnits;
  /** A second language beside the app's own; the words of `VISIT_AREAS` must be loaded in it. */
  second?: string | undefined;
  /** Addresses of photos by the id of their bytes. Without it there are no photos on the page. */
  photos?: ReadonlyMap<string, string> | undefined;
  /** Photos stand on paper too. */
  printPhotos?: boolean | undefined;
  /** What stands under the questions, on screen only. */
  underQuestions?: ComponentChildren;
}

/**
 * The page for the appointment: facts, the person's questions first, then what
 * called for a call, then each wound. It knows nothing of where it is shown.
 */
export function VisitSheet({ summary, units, second, photos, printPhotos, underQuestions }: VisitSheetProps) {
  const { questions, alerts, wounds, mention, seen, written, supplies, plans } = summary;
  const gaps = gapLines(summary);
  return (
    <Second.Provider value={second}>
      <article class={`visit-sheet ${printPhotos ? '' : 'visit-paper-without-photos'}`}>
        <Part name="head" title={() => t('visit:sheet.title', { name: summary.callMe })}>
          <Said as="p" text={() => periodText(summary.period)} />
          <Said as="p" text={() => t('visit:sheet.about', { wounds: formatList(wounds.map(nameOfWound)), plans: plansText(plans) })} />
        </Part>
        <Part
          name="questions"
          title={() => t('visit:questions.title')}
          once={
            <>
              {questions.length > 0 && (
                <ul class="visit-asks">
                  {questions.map((q) => (
                    <li key={q.id} dir="auto">
                      {q.text}
                    </li>
                  ))}
                </ul>
              )}
              {underQuestions}
            </>
          }
        >
          {questions.length === 0 && <Said as="p" text={() => t('visit:questions.none')} />}
        </Part>
        <Part name="alerts" title={() => t('visit:alerts.title')}>
          <Alerts alerts={alerts} />
        </Part>
        {wounds.map((w) => (
          <WoundParts key={w.id} wound={w} period={summary.period} units={units} several={wounds.length > 1} photos={photos} />
        ))}
        <Part name="body" title={() => t('visit:checks.title')}>
          <Body summary={summary} units={units} />
        </Part>
        {mention.length > 0 && (
          <Part name="mention" title={() => t('visit:mention.title')}>
            <Mentions mention={mention} />
          </Part>
        )}
        {seen.length > 0 && (
          <Part name="seen" title={() => t('visit:seen.title')}>
            <SeenList seen={seen} wounds={wounds} />
          </Part>
        )}
        {written.length > 0 && <Part name="written" title={() => t('visit:written')} once={<Written written={written} />} />}
        {supplies.length > 0 && (
          <Part name="supplies" title={() => t('visit:supplies.title')}>
            <Supplies supplies={supplies} />
          </Part>
        )}
        {gaps.length > 0 && (
          <Part name="gaps" title={() => t('visit:gaps.title')}>
            <Gaps lines={gaps} />
          </Part>
        )}
        <Origin callMe={summary.callMe} />
      </article>
    </Second.Provider>
  );
}

/** The person's own words, in their own language. */
const Written = ({ written }: { written: VisitSummary['written'] }) => (
  <ul class="visit-asks">
    {written.map(({ id, day, text }) => (
      <li key={id}>
        <span class="visit-day">{formatShortDay(day)}</span> <bdi dir="auto">{text}</bdi>
      </li>
    ))}
  </ul>
);

interface WoundProps {
  wound: WoundPart;
  period: Period;
  units: VisitUnits;
  several: boolean;
  photos: VisitSheetProps['photos'];
}

/** The parts of one wound. */
function WoundParts({ wound, period, units, several, photos }: WoundProps) {
  const of = (key: string) => () => (several ? t('visit:ofFoot', { what: t(key), foot: nameOfWound(wound) }) : t(key));
  return (
    <>
      <Part name="changes" title={of('visit:changes.title')}>
        <Changes changes={wound.changes} />
      </Part>
      <Part name="drainage" title={of('visit:drainage.title')}>
        <Drainage drainage={wound.drainage} period={period} />
      </Part>
      <Part name="size" title={of('visit:size.title')}>
        <Size size={wound.size} units={units} period={period} />
      </Part>
      {photos && wound.photos.latest && (
        <Part
          name="photos-of"
          title={of('visit:photos.title')}
          once={<Photos photos={wound.photos} address={(photo) => photos.get(photo)} />}
        />
      )}
    </>
  );
}

/** Who wrote it down, and what it is not. */
function Origin({ callMe }: { callMe: string }) {
  return (
    <Part name="origin" title={() => t('visit:origin.title')}>
      <Said as="p" text={() => t('visit:origin.text', { name: callMe })} />
      <Said as="p" text={() => t('common:caution')} />
    </Part>
  );
}
