import type { VNode } from 'preact';
import { useState } from 'preact/hooks';
import { emergencyNumbersFor } from '../care/plan/emergency-numbers.ts';
import { CallButton } from '../parts/call-button.tsx';
import { loadAreas, t } from '../words/i18n.ts';
import { DangerSigns, RegionField } from './danger-signs.tsx';
import { wishedRegion } from './region.ts';

/**
 * A phone on which nothing can be kept: why that may be and what to do, and
 * help all the same, for that needs no storage.
 */
function NoStorageScreen() {
  const [region, setRegion] = useState(wishedRegion());
  return (
    <div class="page help-page">
      <main class="main">
        <h1>{t('common:noStorage.title')}</h1>
        <p class="lead" role="alert">
          {t('common:noStorage.text')}
        </p>
        <ol class="facts">
          {['private', 'blocked', 'full', 'browser'].map((what) => (
            <li key={what}>{t(`common:noStorage.try.${what}`)}</li>
          ))}
        </ol>
        <button type="button" class="button button-main" onClick={() => location.reload()}>
          {t('common:fatal.again')}
        </button>
        <p>{t('common:noStorage.paper')}</p>
        <h2>{t('alert:help.title')}</h2>
        <div class="stack">
          {emergencyNumbersFor(region).map((phone) => (
            <CallButton key={phone} phone={phone} label={t('alert:call.emergency')} tone="grave" />
          ))}
        </div>
        <p>{t('alert:orLocal')}</p>
        <DangerSigns />
        <RegionField region={region} onChange={setRegion} />
        <p class="caution">{t('common:caution')}</p>
      </main>
    </div>
  );
}

/** The screen with its words. */
export async function noStorageScreen(): Promise<VNode> {
  await loadAreas(['common', 'alert', 'check']);
  return <NoStorageScreen />;
}
