// @vitest-environment happy-dom
import { Blob as PlainBlob } from 'node:buffer';
import { cleanup, screen, within } from '@testing-library/preact';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { ellipseAreaMm2 } from '../../app/care/healing/area.ts';
import type { RecordOf } from '../../app/care/log/records.ts';
import { AlbumScreen } from '../../app/screens/photo/album.tsx';
import { PhotoScreen } from '../../app/screens/photo/one.tsx';
import { sameScale } from '../../app/screens/photo/same-scale.ts';
import { keepPhoto, photoBytes } from '../../app/store/photos.ts';
import { saveTrace } from '../../app/store/trace-draft.ts';
import { type Stage, stage } from './stage.tsx';

// The one that comes back from the store as what it was, as in a browser.
beforeEach(() => {
  vi.stubGlobal('Blob', PlainBlob);
});
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

const WOUND = 'w1';

function photoRecord(s: Stage, id: string): RecordOf<'photo'> {
  const wound = s.notebook.state.book?.plan.wounds[0]?.id ?? WOUND;
  return { ...s.notebook.stamp(id), kind: 'photo', wound, photo: id, widthPx: 800, heightPx: 600 };
}

async function keep(s: Stage, id: string): Promise<void> {
  await keepPhoto(s.notebook.shelf, id, new Blob([id], { type: 'image/jpeg' }));
  await s.notebook.append([photoRecord(s, id)]);
}

describe('the photos of a wound', () => {
  it('without any it says that none are needed', async () => {
    const s = await stage();
    s.show(<AlbumScreen />);
    expect(await screen.findByText('You do not need any. All else in the app works without photos.')).toBeTruthy();
    expect(screen.queryByText('Side by side')).toBeNull();
  });

  it('two stand side by side, the first one first', async () => {
    const s = await stage();
    await keep(s, 'photo-a');
    s.device.setClock('2031-03-11T15:00:00Z');
    await keep(s, 'photo-b');
    s.show(<AlbumScreen />);
    const pair = (await screen.findByText('Side by side')).closest('section') as HTMLElement;
    const named = await within(pair).findAllByRole('img');
    expect(named.map((n) => n.getAttribute('aria-label'))).toEqual(['Photo of the wound, Mar 4, 2031', 'Photo of the wound, Mar 11, 2031']);
  });

  it('one that is on another phone is told, not shown as empty', async () => {
    const s = await stage();
    await s.notebook.append([photoRecord(s, 'elsewhere')]);
    s.show(<PhotoScreen id="elsewhere" />);
    expect(await screen.findByText('This photo is not on this phone. It may be on the phone that took it.')).toBeTruthy();
    expect(screen.queryByRole('link', { name: 'Measure the wound on it' })).toBeNull();
  });

  it('deleting asks first, then removes the bytes and keeps the sizes', async () => {
    const s = await stage();
    await keep(s, 'photo-a');
    await saveTrace(s.notebook.shelf, 'photo-a', { shares: [] });
    const size = {
      ...s.notebook.stamp('size-a'),
      kind: 'measurement' as const,
      wound: photoRecord(s, 'x').wound,
      method: 'trace' as const,
    };
    await s.notebook.append([{ ...size, areaMm2: 120, photo: 'photo-a' }]);
    s.show(<PhotoScreen id="photo-a" />);
    await s.user.click(await screen.findByRole('button', { name: 'Delete this photo' }));
    expect(await photoBytes(s.notebook.shelf, 'photo-a')).toBeDefined();
    await s.user.click(screen.getByRole('button', { name: 'Delete it for good' }));
    await expect.poll(() => photoBytes(s.notebook.shelf, 'photo-a')).toBeUndefined();
    await expect.poll(() => s.written('void').map((v) => v.target)).toEqual(['photo-a']);
    expect(s.written('measurement')).toHaveLength(1);
  });
});

describe('two photos at one scale', () => {
  const ring = (cx: number, cy: number, rx: number, ry: number): [number, number][] =>
    Array.from({ length: 90 }, (_, i) => [cx + rx * Math.cos((i * Math.PI) / 45), cy + ry * Math.sin((i * Math.PI) / 45)]);
  const small = { lengthMm: 20, areaMm2: ellipseAreaMm2(20, 10), outline: ring(0.5, 0.5, 0.1, 0.1) };
  const large = { lengthMm: 40, areaMm2: ellipseAreaMm2(40, 20), outline: ring(0.25, 0.5, 0.1, 0.1) };

  it('shows as many mm of both, each around its wound', () => {
    // 0.1 of 1000 px and 0.1 of 500 px are the half axes: 10 px a mm for the small wound, 5 for the large one.
    const [a, b] = sameScale({ widthPx: 1000, heightPx: 500 }, small, { widthPx: 1000, heightPx: 500 }, large) ?? [];
    expect(a?.side).toBeCloseTo(40 * 1.7 * 10, -1);
    expect(b?.side).toBeCloseTo(40 * 1.7 * 5, -1);
    expect((a?.x ?? 0) + (a?.side ?? 0) / 2).toBeCloseTo(500);
    expect((b?.x ?? 0) + (b?.side ?? 0) / 2).toBeCloseTo(250);
  });

  it('is not claimed when one was not measured', () => {
    expect(sameScale({ widthPx: 10, heightPx: 10 }, small, { widthPx: 10, heightPx: 10 }, undefined)).toBeUndefined();
    expect(sameScale({ widthPx: 10, heightPx: 10 }, small, { widthPx: 10, heightPx: 10 }, { lengthMm: 3 })).toBeUndefined();
  });
});
