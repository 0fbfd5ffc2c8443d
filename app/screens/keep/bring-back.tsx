import { useState } from 'preact/hooks';
import { BackupFault, type BackupRefusal, backupFault, type OpenBackup, openBackup } from '../../exchange/backup-file.ts';
import { readBookFile } from '../../exchange/book-file.ts';
import { Page } from '../../parts/page.tsx';
import { SecretField, ShowLetters } from '../../parts/secret-field.tsx';
import type { Notebook } from '../../store/notebook.ts';
import { type Restored, restore } from '../../store/restore.ts';
import type { KeptPart } from '../../store/whole.ts';
import { t } from '../../words/i18n.ts';
import { useNotebook } from '../context.ts';
import { offerLog } from '../incoming-log.ts';
import { go } from '../route.ts';
import { BroughtBack, WhatIsInIt } from './brought-back.tsx';
import { type Following, useWork, Working } from './work.tsx';

type Step =
  | { at: 'choosing'; why?: BackupRefusal | 'unreadable' }
  | { at: 'asking'; file: File; why?: 'wrongPassphrase' }
  | { at: 'checking' }
  | { at: 'offered'; backup: OpenBackup; cutOff: boolean; why?: 'stopped' | 'failed' }
  | { at: 'bringing'; backup: OpenBackup }
  | { at: 'done'; result: Restored; cutOff: boolean };

async function* keptParts(backup: OpenBackup, cutOff: boolean, following: Following): AsyncGenerator<KeptPart> {
  try {
    for await (const part of backup.parts(following)) if (part.kind !== 'contents') yield part;
  } catch (error) {
    // The person knows that the end is missing and wants what is there.
    if (!(cutOff && error instanceof BackupFault)) throw error;
  }
}

async function bringBack(notebook: Notebook, backup: OpenBackup, cutOff: boolean, following: Following): Promise<Restored> {
  await notebook.nameDevice();
  const { device } = notebook.state.settings;
  try {
    return await restore(notebook.shelf, notebook.device, device ?? 'unnamed', keptParts(backup, cutOff, following), {
      signal: following.signal,
    });
  } finally {
    // Whole or in part: what is in the stores now is shown.
    await notebook.refresh();
  }
}

/** Brings a locked copy back: file, passphrase, what is in it, and only then into the books, as a union. */
export function BringBackScreen() {
  const { notebook } = useNotebook();
  const [step, setStep] = useState<Step>({ at: 'choosing' });
  const work = useWork();

  const choose = async (file: File | undefined) => {
    if (!file) return;
    try {
      const why = await backupFault(file);
      if (why === 'book') {
        offerLog(await readBookFile(file));
        return go('take-in');
      }
      setStep(why ? { at: 'choosing', why } : { at: 'asking', file });
    } catch {
      // A file in the cloud that cannot be fetched, for one.
      setStep({ at: 'choosing', why: 'unreadable' });
    }
  };
  const open = async (file: File, passphrase: string) => {
    setStep({ at: 'checking' });
    const done = await work.run(async (following) => {
      const opened = await openBackup(file, passphrase);
      return opened.ok ? { ...opened, fault: await opened.backup.fault(following) } : opened;
    });
    if (!done.ok) return setStep(done.why === 'stopped' ? { at: 'asking', file } : { at: 'choosing', why: 'unreadable' });
    const opened = done.value;
    if (!opened.ok) {
      return setStep(opened.why === 'wrongPassphrase' ? { at: 'asking', file, why: opened.why } : { at: 'choosing', why: opened.why });
    }
    if (opened.fault === 'damaged') return setStep({ at: 'choosing', why: 'damaged' });
    setStep({ at: 'offered', backup: opened.backup, cutOff: opened.fault === 'cutOff' });
  };
  const bring = async (backup: OpenBackup, cutOff: boolean) => {
    setStep({ at: 'bringing', backup });
    const done = await work.run((following) => bringBack(notebook, backup, cutOff, following));
    if (!done.ok) return setStep({ at: 'offered', backup, cutOff, why: done.why });
    setStep({ at: 'done', result: done.value, cutOff });
  };

  if (step.at === 'checking') {
    return <Working title={t('keep:back.checking')} text={t('keep:workingText')} share={work.share} onStop={work.stop} />;
  }
  if (step.at === 'bringing') {
    return <Working title={t('keep:back.bringing')} text={t('keep:back.bringingText')} share={work.share} onStop={work.stop} />;
  }
  if (step.at === 'asking') {
    return <AskPassphrase why={step.why} onBack={() => setStep({ at: 'choosing' })} onOpen={(words) => void open(step.file, words)} />;
  }
  if (step.at === 'offered') {
    const { backup, cutOff, why } = step;
    return (
      <WhatIsInIt
        backup={backup}
        cutOff={cutOff}
        why={why}
        onBring={() => void bring(backup, cutOff)}
        onLeave={() => setStep({ at: 'choosing' })}
      />
    );
  }
  if (step.at === 'done') return <BroughtBack result={step.result} cutOff={step.cutOff} />;
  return <Choose why={step.why} onChoose={(file) => void choose(file)} />;
}

function Choose({ why, onChoose }: { why: string | undefined; onChoose: (file: File | undefined) => void }) {
  return (
    <Page
      title={t('keep:back.title')}
      back={() => go('keep')}
      foot={
        <label class="button button-main file">
          {t('keep:back.choose')}
          <input
            type="file"
            accept=".txt,text/plain"
            onChange={(event) => {
              const input = event.currentTarget;
              onChoose(input.files?.[0]);
              // Emptied, so that the same file can be chosen again.
              input.value = '';
            }}
          />
        </label>
      }
    >
      <p class="lead">{t('keep:back.lead')}</p>
      {why && (
        <p class="error" role="alert">
          {t(`keep:back.fault.${why}`)}
        </p>
      )}
      <p>{t('keep:back.union')}</p>
    </Page>
  );
}

interface AskProps {
  why: 'wrongPassphrase' | undefined;
  onBack: () => void;
  onOpen: (passphrase: string) => void;
}

function AskPassphrase({ why, onBack, onOpen }: AskProps) {
  const [passphrase, setPassphrase] = useState('');
  const [shown, setShown] = useState(why !== undefined);
  return (
    <Page
      title={t('keep:back.askTitle')}
      back={onBack}
      foot={
        <button type="button" class="button button-main" disabled={passphrase === ''} onClick={() => onOpen(passphrase)}>
          {t('keep:back.open')}
        </button>
      }
    >
      <SecretField
        label={t('keep:passphrase.ask')}
        hint={t('keep:passphrase.askHint')}
        value={passphrase}
        shown={shown}
        error={why && passphrase === '' ? t('keep:back.fault.wrongPassphrase') : undefined}
        onChange={setPassphrase}
      />
      <ShowLetters label={t('keep:passphrase.show')} shown={shown} onChange={setShown} />
    </Page>
  );
}
