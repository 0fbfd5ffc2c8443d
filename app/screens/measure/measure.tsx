import { useState } from 'preact/hooks';
import { Choices } from '../../parts/choice.tsx';
import { Drawing } from '../../parts/drawing.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { Page } from '../../parts/page.tsx';
import { lengthToMm, parseNumber } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { woundName } from '../../words/names.ts';
import { useBook } from '../context.ts';
import { go, replace } from '../route.ts';

/** No foot wound is larger; a larger number is a slip or the wrong unit. */
const MOST_MM = 400;

/** A typed length in mm, or undefined when it is none. */
function read(text: string, unit: 'cm' | 'in'): number | undefined {
  const value = parseNumber(text);
  const mm = value === undefined ? undefined : lengthToMm(value, unit);
  return mm !== undefined && mm > 0 && mm <= MOST_MM ? mm : undefined;
}

/** The size of a wound with a ruler: the longest line, and the widest across it. */
export function MeasureScreen() {
  const { notebook, state, book } = useBook();
  const { wounds } = book.plan;
  const [wound, setWound] = useState(wounds[0]?.id ?? '');
  const [typed, setTyped] = useState({ length: '', width: '' });
  const [complain, setComplain] = useState(false);
  const [failed, setFailed] = useState(false);
  const unit = state.settings.lengthUnit;
  const lengthMm = read(typed.length, unit);
  const widthMm = read(typed.width, unit);

  const save = async () => {
    if (lengthMm === undefined || widthMm === undefined) return setComplain(true);
    // The longer one is the length, whichever way round it was typed.
    const [longer, across] = lengthMm >= widthMm ? [lengthMm, widthMm] : [widthMm, lengthMm];
    try {
      await notebook.append([{ ...notebook.stamp(), kind: 'measurement', wound, method: 'ruler', lengthMm: longer, widthMm: across }]);
      replace('log');
    } catch {
      setFailed(true);
    }
  };

  return (
    <Page
      title={t('log:measureTitle')}
      back={() => go('today')}
      foot={
        <>
          {failed && (
            <p class="error" role="alert">
              {t('common:notSaved')}
            </p>
          )}
          <button type="button" class="button button-main" onClick={() => void save()}>
            {t('common:save')}
          </button>
        </>
      }
    >
      <Drawing name="look" />
      <p class="lead">{t('log:measureHow')}</p>
      {wounds.length > 1 && (
        <Choices
          legend={t('change:whichWound')}
          choices={wounds.map((w) => ({ value: w.id, label: woundName(w) }))}
          chosen={[wound]}
          onChange={([id]) => setWound(id ?? wound)}
        />
      )}
      <NumberField
        label={t('log:measureLength')}
        value={typed.length}
        unit={unit}
        error={complain && lengthMm === undefined ? t('log:measureRange') : undefined}
        onChange={(length) => setTyped({ ...typed, length })}
      />
      <NumberField
        label={t('log:measureWidth')}
        value={typed.width}
        unit={unit}
        error={complain && widthMm === undefined ? t('log:measureRange') : undefined}
        onChange={(width) => setTyped({ ...typed, width })}
      />
      <p class="hint">{t('log:measureWhy')}</p>
    </Page>
  );
}
