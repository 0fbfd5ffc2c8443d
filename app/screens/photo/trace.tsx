import './photo.css';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Point, Quad } from '../../care/healing/homography.ts';
import { type Scale, scaleFaults, scaleFrom } from '../../care/healing/image-scale.ts';
import { tidyOutline } from '../../care/healing/outline.ts';
import { measureOutline, type Traced } from '../../care/healing/traced.ts';
import type { RecordOf } from '../../care/log/records.ts';
import { standing } from '../../care/log/timeline.ts';
import { snapCard } from '../../exchange/scale/card-edges.ts';
import { findScaleCode } from '../../exchange/scale/find-code.ts';
import { NotSaved } from '../../parts/not-saved.tsx';
import { Page } from '../../parts/page.tsx';
import { press } from '../../parts/press.ts';
import { dropTrace, readTrace, saveTrace, type TraceDraft } from '../../store/trace-draft.ts';
import { t } from '../../words/i18n.ts';
import { useBook } from '../context.ts';
import { go, replace } from '../route.ts';
import { unitsOf } from '../units.ts';
import { useEntries } from '../use-entries.ts';
import { CardCorners } from './card-corners.tsx';
import { DrawEdge } from './draw-edge.tsx';
import { fromShares, toShares } from './outline.ts';
import { photoPixels } from './pixels.ts';
import { SizeFacts } from './size-facts.tsx';
import { TracedPicture } from './traced-picture.tsx';
import { usePhoto } from './use-photo.ts';
import type { PictureSize, Spot } from './view.ts';

const toPoint = ({ x, y }: Spot): Point => [x, y];
const toSpot = ([x, y]: Point): Spot => ({ x, y });

/** Measures a wound on a kept photo: finds the scale, or takes a card's corners, then the edge, then shows the size. */
export function TraceScreen({ id }: { id: string }) {
  const { entries, older } = useEntries(true);
  const { notebook } = useBook();
  const record = standing(entries, 'photo').find((e) => e.first.id === id)?.now;
  const photo = usePhoto(record?.photo);
  const [draft, setDraft] = useState<TraceDraft | 'reading'>('reading');
  const key = record?.photo;
  useEffect(() => {
    const none = { shares: [] };
    if (key !== undefined)
      readTrace(notebook.shelf, key).then(
        (found) => setDraft(found ?? none),
        () => setDraft(none),
      );
  }, [notebook, key]);
  if (record && photo.state === 'here' && draft !== 'reading') {
    return <Tracing id={id} record={record} bytes={photo.bytes} url={photo.url} draft={draft} />;
  }
  const isGone = (older !== 'reading' && !record) || photo.state === 'missing';
  return (
    <Page title={t('photo:measureTitle')} back={() => go('photos')}>
      <p class="lead">{isGone ? t(record ? 'photo:notHereLong' : 'photo:gone') : t('common:wait')}</p>
    </Page>
  );
}

type Step =
  | { at: 'finding' }
  | { at: 'noScale'; why: readonly string[] }
  | { at: 'card'; why?: string | undefined }
  | { at: 'edge'; scale: Scale; why?: string | undefined }
  | { at: 'result'; scale: Scale; spots: readonly Spot[]; traced: Traced };

interface Props {
  id: string;
  record: RecordOf<'photo'>;
  bytes: Blob;
  url: string;
  draft: TraceDraft;
}

function Tracing({ id, record, bytes, url, draft }: Props) {
  const { notebook } = useBook();
  const size = { widthPx: record.widthPx, heightPx: record.heightPx };
  const [step, setStep] = useState<Step>({ at: 'finding' });
  const kept = useRef(draft);

  const pixels = useRef<ImageData | undefined>(undefined);

  useEffect(() => {
    let current = true;
    void photoPixels(bytes).then(async (read) => {
      pixels.current = read;
      const found = await find(read, size);
      if (current) setStep(found);
    });
    return () => {
      current = false;
    };
  }, [bytes]);

  const keep = (part: Partial<TraceDraft>) => {
    kept.current = { ...kept.current, ...part };
    // A draft that cannot be stored is still on screen; only the record counts as saved.
    saveTrace(notebook.shelf, record.photo, kept.current).catch(() => undefined);
  };
  const leave = () => go('photos', id);

  const useCorners = (corners: readonly Spot[]) => {
    const tapped = corners.map(toPoint) as unknown as Quad;
    // A finger is wider than a card's edge; the edge itself is in the picture.
    const placed = pixels.current ? snapCard(tapped, pixels.current, size) : undefined;
    const scale = scaleFrom(placed?.corners ?? tapped, { kind: 'card' }, size, placed?.fit);
    const [fault] = scale ? scaleFaults(scale) : (['cornersOff'] as const);
    if (!scale || fault) return setStep({ at: 'card', why: t(`photo:scaleFault.${fault ?? 'cornersOff'}`) });
    setStep({ at: 'edge', scale });
  };
  const measure = (scale: Scale, spots: readonly Spot[]) => {
    const outline = tidyOutline(spots.map(toPoint));
    const measured = measureOutline(outline, scale);
    if (measured.ok) return setStep({ at: 'result', scale, spots: outline.map(toSpot), traced: measured.traced });
    setStep({ at: 'edge', scale, why: t(`photo:edgeFault.${measured.faults[0]}`) });
  };

  switch (step.at) {
    case 'finding':
      return (
        <Page title={t('photo:measureTitle')} back={leave}>
          <p class="lead" role="status">
            {t('photo:finding')}
          </p>
        </Page>
      );
    case 'noScale':
      return <NoScale why={step.why} onCard={() => setStep({ at: 'card' })} onBack={leave} />;
    case 'card':
      return (
        <CardCorners
          url={url}
          size={size}
          started={fromShares(kept.current.card ?? [], size)}
          trouble={step.why}
          onSpots={(spots) => keep({ card: toShares(spots, size) })}
          onDone={useCorners}
          onBack={leave}
        />
      );
    case 'edge':
      return (
        <DrawEdge
          url={url}
          size={size}
          started={fromShares(kept.current.shares, size)}
          near={fromShares(kept.current.shares, size)}
          scale={step.scale.corners.map(toSpot)}
          trouble={step.why}
          onSpots={(spots) => keep({ shares: toShares(spots, size) })}
          onDone={(spots) => measure(step.scale, spots)}
          onBack={leave}
        />
      );
    case 'result':
      return (
        <Result
          record={record}
          url={url}
          step={step}
          onMend={() => setStep({ at: 'edge', scale: step.scale })}
          onSaved={() => {
            void dropTrace(notebook.shelf, record.photo).catch(() => undefined);
            replace('photos', id);
          }}
        />
      );
  }
}

/** Looks for the printed square in a photo. */
async function find(pixels: ImageData | undefined, size: PictureSize): Promise<Step> {
  if (!pixels) return { at: 'noScale', why: [t('photo:fault.notAPicture')] };
  const found = await findScaleCode(pixels, size);
  if (!found.ok) return { at: 'noScale', why: [t(`photo:notFound.${found.why}`)] };
  const { corners, mark, fit } = found.found;
  const scale = scaleFrom(corners, mark, size, fit);
  const faults = scale ? scaleFaults(scale) : (['outOfPlane'] as const);
  if (!scale || faults.length > 0) return { at: 'noScale', why: [t('photo:badScale'), ...faults.map((f) => t(`photo:scaleFault.${f}`))] };
  return { at: 'edge', scale };
}

function NoScale({ why, onCard, onBack }: { why: readonly string[]; onCard: () => void; onBack: () => void }) {
  return (
    <Page
      title={t('photo:measureTitle')}
      back={onBack}
      focusKey="noScale"
      foot={
        <>
          <a class="button button-main" href="#/take-photo">
            {t('photo:newPhoto')}
          </a>
          <button type="button" class="button button-second" onClick={onCard}>
            {t('photo:useCard')}
          </button>
          <a class="button button-quiet" href="#/measure">
            {t('photo:useRuler')}
          </a>
        </>
      }
    >
      {why.map((line, i) => (
        <p key={line} class={i === 0 ? 'lead' : ''} role={i === 0 ? 'alert' : undefined}>
          {line}
        </p>
      ))}
    </Page>
  );
}

interface ResultProps {
  record: RecordOf<'photo'>;
  url: string;
  step: Extract<Step, { at: 'result' }>;
  onMend: () => void;
  onSaved: () => void;
}

function Result({ record, url, step: { scale, spots, traced }, onMend, onSaved }: ResultProps) {
  const { notebook, state } = useBook();
  const { entries } = useEntries(true);
  const [failed, setFailed] = useState(false);
  const [saving, setSaving] = useState(false);
  const size = { widthPx: record.widthPx, heightPx: record.heightPx };
  const last = standing(entries, 'measurement').findLast((e) => e.now.wound === record.wound)?.now;
  const save = async () => {
    setSaving(true);
    try {
      const { areaMm2, lengthMm, widthMm, perimeterMm } = traced;
      await notebook.append([
        {
          ...notebook.stamp(),
          kind: 'measurement',
          wound: record.wound,
          method: 'trace',
          lengthMm,
          widthMm,
          areaMm2,
          perimeterMm,
          photo: record.photo,
          scale: scale.mark.kind,
          outline: toShares(spots, size),
        },
      ]);
      onSaved();
    } catch {
      setFailed(true);
      setSaving(false);
    }
  };
  return (
    <Page
      title={t('photo:resultTitle')}
      back={onMend}
      foot={
        <>
          <NotSaved when={failed} />
          <button type="button" class="button button-main" {...press(() => void save(), saving)}>
            {t('common:save')}
          </button>
          <button type="button" class="button button-second" onClick={onMend}>
            {t('photo:mendLine')}
          </button>
        </>
      }
    >
      <SizeFacts size={traced} offShare={traced.errorShare} unit={unitsOf(state).length} />
      <TracedPicture url={url} size={size} spots={spots} label={t('photo:resultPicture')} />
      <p>{t('photo:resultText')}</p>
      {last && last.method !== 'trace' && <p class="hint">{t('photo:resultOther', { method: t(`photo:method.${last.method}`) })}</p>}
    </Page>
  );
}
