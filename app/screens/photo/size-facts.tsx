import { formatArea, formatLength } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';

interface Props {
  size: { lengthMm?: number | undefined; widthMm?: number | undefined; areaMm2?: number | undefined };
  unit: 'cm' | 'in';
  /** How far the area may be off, one standard deviation, as a share of it. */
  offShare?: number;
}

/** Nineteen times in twenty the true value is within two standard deviations. */
const DEVIATIONS = 2;

/** A traced size as plain facts. */
export function SizeFacts({ size, unit, offShare }: Props) {
  const { lengthMm, widthMm, areaMm2 } = size;
  return (
    <dl class="answers">
      {areaMm2 !== undefined && (
        <div>
          <dt>{t('photo:area')}</dt>
          <dd>
            {formatArea(areaMm2, unit)}
            {offShare !== undefined && (
              <span class="row-more"> {t('photo:giveOrTake', { area: formatArea(areaMm2 * offShare * DEVIATIONS, unit) })}</span>
            )}
          </dd>
        </div>
      )}
      {lengthMm !== undefined && (
        <div>
          <dt>{t('photo:length')}</dt>
          <dd>{formatLength(lengthMm, unit)}</dd>
        </div>
      )}
      {widthMm !== undefined && (
        <div>
          <dt>{t('photo:width')}</dt>
          <dd>{formatLength(widthMm, unit)}</dd>
        </div>
      )}
    </dl>
  );
}
