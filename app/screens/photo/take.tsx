import './photo.css';
import { useState } from 'preact/hooks';
import { type ShrunkPhoto, shrinkPhoto } from '../../exchange/photo-shrink.ts';
import { Choices } from '../../parts/choice.tsx';
import { Drawing } from '../../parts/drawing.tsx';
import { NotSaved } from '../../parts/not-saved.tsx';
import { Page } from '../../parts/page.tsx';
import { press } from '../../parts/press.ts';
import { keepPhoto } from '../../store/photos.ts';
import { t } from '../../words/i18n.ts';
import { woundName } from '../../words/names.ts';
import { useBook } from '../context.ts';
import { go, replace } from '../route.ts';
import { useAddress } from './use-photo.ts';

type Step = { at: 'asking' | 'working' } | { at: 'looking'; photo: ShrunkPhoto; saving?: boolean; failed?: boolean };

/** Takes or chooses a photo of a wound, shows it, and keeps it once the person says so. */
export function TakePhotoScreen() {
  const { notebook, book } = useBook();
  const { wounds } = book.plan;
  const [wound, setWound] = useState(wounds[0]?.id ?? '');
  const [step, setStep] = useState<Step>({ at: 'asking' });
  const [fault, setFault] = useState<string>();

  const take = async (file: File | undefined) => {
    if (!file) return;
    setFault(undefined);
    setStep({ at: 'working' });
    const shrunk = await shrinkPhoto(file);
    if (shrunk.ok) return setStep({ at: 'looking', photo: shrunk.photo });
    setFault(shrunk.why);
    setStep({ at: 'asking' });
  };
  const keep = async (photo: ShrunkPhoto) => {
    setStep({ at: 'looking', photo, saving: true });
    const stamp = notebook.stamp();
    try {
      // The bytes first: a record without its photo would promise what is not there.
      await keepPhoto(notebook.shelf, stamp.id, photo.blob);
      await notebook.append([{ ...stamp, kind: 'photo', wound, photo: stamp.id, widthPx: photo.widthPx, heightPx: photo.heightPx }]);
      replace('photos', stamp.id);
    } catch {
      setStep({ at: 'looking', photo, failed: true });
    }
  };

  if (step.at === 'looking') {
    return (
      <Look
        photo={step.photo}
        failed={step.failed === true}
        saving={step.saving === true}
        onKeep={() => void keep(step.photo)}
        onAgain={() => setStep({ at: 'asking' })}
      />
    );
  }
  return (
    <Page
      title={t('photo:takeTitle')}
      back={() => go('photos')}
      focusKey={step.at}
      foot={
        <>
          {step.at === 'working' && <p role="status">{t('common:wait')}</p>}
          <FileButton kind="main" label={t('photo:take')} camera disabled={step.at === 'working'} onFile={(file) => void take(file)} />
          <FileButton kind="second" label={t('photo:choose')} disabled={step.at === 'working'} onFile={(file) => void take(file)} />
        </>
      }
    >
      <p class="lead">{t('photo:when')}</p>
      <Drawing name="photoScale" />
      {fault && (
        <p class="error" role="alert">
          {t(`photo:fault.${fault}`)}
        </p>
      )}
      {wounds.length > 1 && (
        <Choices
          legend={t('photo:whichWound')}
          choices={wounds.map((w) => ({ value: w.id, label: woundName(w) }))}
          chosen={[wound]}
          onChange={([id]) => setWound(id ?? wound)}
        />
      )}
      <ol class="how">
        {['light', 'square', 'noTouch', 'above', 'whole'].map((key) => (
          <li key={key}>{t(`photo:how.${key}`)}</li>
        ))}
      </ol>
      <p class="hint">{t('photo:noSquare')}</p>
      <p class="hint">{t('photo:stays')}</p>
    </Page>
  );
}

interface FileButtonProps {
  kind: 'main' | 'second';
  label: string;
  camera?: boolean;
  disabled: boolean;
  onFile: (file: File | undefined) => void;
}

function FileButton({ kind, label, camera, disabled, onFile }: FileButtonProps) {
  return (
    <label class={`button button-${kind} file`}>
      {label}
      <input
        type="file"
        accept="image/*"
        capture={camera ? 'environment' : undefined}
        disabled={disabled}
        onChange={(event) => {
          const input = event.currentTarget;
          onFile(input.files?.[0]);
          // Emptied, so that the same photo can be chosen again.
          input.value = '';
        }}
      />
    </label>
  );
}

interface LookProps {
  photo: ShrunkPhoto;
  failed: boolean;
  saving: boolean;
  onKeep: () => void;
  onAgain: () => void;
}

function Look({ photo, failed, saving, onKeep, onAgain }: LookProps) {
  const url = useAddress(photo.blob);
  return (
    <Page
      title={t('photo:lookTitle')}
      back={onAgain}
      foot={
        <>
          <NotSaved when={failed} />
          <button type="button" class="button button-main" {...press(onKeep, saving)}>
            {t('photo:keep')}
          </button>
          <button type="button" class="button button-second" {...press(onAgain, saving)}>
            {t('photo:again')}
          </button>
        </>
      }
    >
      {url && <img class="photo" src={url} width={photo.widthPx} height={photo.heightPx} alt={t('photo:justTaken')} />}
      <p>{t('photo:lookFor')}</p>
    </Page>
  );
}
