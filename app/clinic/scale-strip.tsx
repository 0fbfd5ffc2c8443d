import { printedScale } from '../exchange/scale/printed-scale.ts';
import { formatNumber } from '../words/format.ts';
import { t } from '../words/i18n.ts';
import { CodePicture } from './code-picture.tsx';

const MM_PER_INCH = 25.4;

/** A strip to cut out of the take-home page: the scale code, at its true size, for photos of the wound. */
export function ScaleStrip() {
  const { code, sideMm, pictureMm } = printedScale();
  const size = t('paper:scale.size', { mm: formatNumber(sideMm, 0), inches: formatNumber(sideMm / MM_PER_INCH, 2) });
  return (
    <section class="paper-scale">
      <h2>{t('paper:scale.title')}</h2>
      <p>{t('paper:scale.cut')}</p>
      <div class="paper-strip">
        <CodePicture code={code} label={t('paper:scale.label')} size={`${pictureMm}mm`} />
        <div>
          <p class="strong">{t('paper:scale.place')}</p>
          <p>{size}</p>
          <p>{t('paper:scale.wrong')}</p>
        </div>
      </div>
    </section>
  );
}
