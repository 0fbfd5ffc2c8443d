// @vitest-environment happy-dom
import { cleanup, fireEvent, render, screen } from '@testing-library/preact';
import { useState } from 'preact/hooks';
import { afterEach, beforeAll, beforeEach, describe, expect, test, vi } from 'vitest';
import { countVersion, type DeskState, handOver, setPerson, standingOf } from '../../app/clinic/desk-state.ts';
import { HandOver } from '../../app/clinic/hand-over.tsx';
import { makeKeys } from '../../app/exchange/clinic-keys.ts';
import type { ClinicKeys } from '../../app/exchange/signature.ts';
import { AREAS, loadAreas, t, words } from '../../app/words/i18n.ts';
import { demoPlan } from '../care/plan/plans.ts';

let keys: ClinicKeys;
beforeAll(async () => {
  ({ keys } = await makeKeys('four geese by the river'));
});
beforeEach(async () => {
  await words.changeLanguage('en');
  await loadAreas(AREAS);
});
afterEach(cleanup);

/** The hand-over with a field that changes the plan, as the form beside it does. */
function Stage() {
  const [state, setState] = useState<DeskState>({ draft: demoPlan(), seen: {}, follows: [], onHand: {} });
  const edit = (change: (s: DeskState) => DeskState) => setState((now) => countVersion(change(now)));
  return (
    <>
      <button type="button" onClick={() => edit(setPerson({ callMe: 'Rosa' }))}>
        rename
      </button>
      <HandOver
        plan={state.draft as ReturnType<typeof demoPlan>}
        stops={[]}
        changed={standingOf(state) === 'changed'}
        keys={keys}
        onKeys={() => undefined}
        onHanded={() => edit(handOver(state.draft))}
        onSaved={() => undefined}
      />
    </>
  );
}

const { revision, person } = demoPlan();
const forWhom = (name: string, version: number) => t('clinic:hand.forWhom', { name, revision: version });

describe('the hand-over', () => {
  test('names person and version with the code; a change after it is the next version, whose code is shown when asked for', async () => {
    render(<Stage />);
    const label = t('clinic:hand.code');
    const code = await screen.findAllByRole('img', { name: label });
    expect(code[0]?.closest('figure')?.textContent).toContain(forWhom(person.callMe, revision));
    fireEvent.click(screen.getByRole('button', { name: 'rename' }));
    expect(screen.getByText(t('clinic:hand.changed', { revision: revision + 1 }))).toBeTruthy();
    expect(screen.queryByRole('img', { name: label })).toBeNull();
    const again = screen.getByRole('button', { name: t('clinic:hand.again', { revision: revision + 1 }) });
    await vi.waitFor(() => expect(again).toHaveProperty('disabled', false));
    fireEvent.click(again);
    const next = await screen.findAllByRole('img', { name: label });
    expect(next[0]?.closest('figure')?.textContent).toContain(forWhom('Rosa', revision + 1));
    expect(screen.queryByText(t('clinic:hand.changed', { revision: revision + 1 }))).toBeNull();
  });

  test('"The link is copied." goes with the next act', async () => {
    vi.stubGlobal('navigator', { ...navigator, clipboard: { writeText: () => Promise.resolve() } });
    const open = vi.spyOn(window, 'open').mockReturnValue(null);
    render(<Stage />);
    await screen.findAllByRole('img', { name: t('clinic:hand.code') });
    fireEvent.click(screen.getByRole('button', { name: t('clinic:hand.link') }));
    await screen.findByText(t('clinic:hand.copied'));
    fireEvent.click(screen.getByRole('button', { name: t('clinic:hand.paper') }));
    expect(screen.queryByText(t('clinic:hand.copied'))).toBeNull();
    open.mockRestore();
    vi.unstubAllGlobals();
  });
});
