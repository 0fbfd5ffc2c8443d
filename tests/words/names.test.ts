import { beforeAll, expect, test } from 'vitest';
import { loadAreas, words } from '../../app/words/i18n.ts';
import { dressingName } from '../../app/words/names.ts';

beforeAll(async () => {
  await words.changeLanguage('en');
  await loadAreas(['common']);
});

const foam = { family: 'foam', widthMm: 100, heightMm: 100, silver: false } as const;

test('a dressing keeps the size on its packet; where inches are used they stand beside it', () => {
  expect(dressingName(foam, 'cm')).toMatch(/10 cm × 10 cm$/);
  // 10 cm are 3.94 in: 25.4 mm to the inch.
  expect(dressingName(foam, 'in')).toMatch(/10 cm × 10 cm \(3\.9 in × 3\.9 in\)$/);
  expect(dressingName({ family: 'foam', silver: false }, 'in')).not.toMatch(/\d/);
});
