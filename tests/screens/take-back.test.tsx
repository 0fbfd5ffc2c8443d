// @vitest-environment happy-dom
import { describe, expect, test } from 'vitest';
import type { Judgement } from '../../app/care/log/records.ts';
import { alertFor } from '../../app/screens/sitting.ts';
import { stage } from './stage.tsx';

const GRAVE: Judgement = {
  level: 'callNow',
  told: 'callNow',
  fired: [{ rule: 'redness-streaks', level: 'callNow', findings: ['redness:streaks'] }],
  quieted: [],
};

describe('a grave answer that was taken back as a slip', () => {
  test('raises its alert again when it is given again, and again after that', async () => {
    const { notebook } = await stage();
    for (let slips = 0; slips < 3; slips++) {
      const alert = alertFor(notebook, GRAVE, 'change-1');
      await notebook.append(alert ? [alert] : []);
      expect(notebook.openAlerts().map((a) => a.from)).toEqual(['change-1']);
      const target = notebook.openAlerts()[0]?.id ?? '';
      await notebook.append([{ ...notebook.stamp(), kind: 'void', target }]);
      expect(notebook.openAlerts()).toEqual([]);
    }
  });

  test('told in two tabs at once it is still one alert', async () => {
    const { notebook } = await stage();
    const twice = [alertFor(notebook, GRAVE, 'change-1'), alertFor(notebook, GRAVE, 'change-1')].flatMap((a) => (a ? [a] : []));
    for (const alert of twice) await notebook.append([alert]);
    expect(notebook.openAlerts()).toHaveLength(1);
  });
});
