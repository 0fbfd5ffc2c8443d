import { useState } from 'preact/hooks';
import { makeKeys, openKeys } from '../exchange/clinic-keys.ts';
import { PASSPHRASE_LEAST } from '../exchange/passphrase.ts';
import type { ClinicKeys } from '../exchange/signature.ts';
import { t } from '../words/i18n.ts';
import { TextBox } from './fields.tsx';
import { keepKeys } from './kept.ts';
import { save } from './save.ts';

/**
 * Once for each clinic: makes the key that signs its plans, and the locked file
 * that brings the key to a second device; or opens such a file. The key itself
 * cannot be read out of this device again.
 */
export function KeysForm({ onKeys }: { onKeys: (keys: ClinicKeys) => void }) {
  const [passphrase, setPassphrase] = useState('');
  const [failed, setFailed] = useState<string | undefined>();
  const [busy, setBusy] = useState(false);
  const run = async (work: () => Promise<string | undefined>) => {
    setBusy(true);
    setFailed(undefined);
    try {
      setFailed(await work());
    } catch {
      setFailed(t('clinic:keys.notKept'));
    } finally {
      setBusy(false);
    }
  };
  const make = () =>
    run(async () => {
      const { keys, file } = await makeKeys(passphrase);
      await keepKeys(keys);
      save('tendbook-clinic-key.json', file);
      onKeys(keys);
      return undefined;
    });
  const open = (file: File | undefined) =>
    run(async () => {
      if (!file) return undefined;
      const arrival = await openKeys(await file.text(), passphrase);
      if (!arrival.ok) return t(`clinic:keys.fault.${arrival.why}`);
      await keepKeys(arrival.keys);
      onKeys(arrival.keys);
      return undefined;
    });
  const short = passphrase.length < PASSPHRASE_LEAST;
  return (
    <form
      class="keys"
      onSubmit={(event) => {
        event.preventDefault();
        if (!short && !busy) void make();
      }}
    >
      <h3>{t('clinic:keys.title')}</h3>
      <p>{t('clinic:keys.why')}</p>
      <TextBox
        type="password"
        label={t('clinic:keys.passphrase')}
        hint={t('clinic:keys.passphraseHint', { least: PASSPHRASE_LEAST })}
        value={passphrase}
        onChange={setPassphrase}
      />
      {failed && (
        <p class="error" role="alert">
          {failed}
        </p>
      )}
      <button type="submit" class="act" aria-disabled={busy || undefined} disabled={short}>
        {t(busy ? 'common:wait' : 'clinic:keys.make')}
      </button>
      <label class="file small">
        {t('clinic:keys.open')}
        <input
          type="file"
          accept=".json,application/json"
          disabled={short || busy}
          onChange={(e) => void open(e.currentTarget.files?.[0])}
        />
      </label>
    </form>
  );
}
