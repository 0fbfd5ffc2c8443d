import './chart.css';
import { useId, useMemo, useRef } from 'preact/hooks';
import { formatDayTick, formatNumber, inARow } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { layoutChart } from './layout.ts';
import { BarMark, DASHES, Mark } from './mark.tsx';
import { chartWords, hasPoints, nothingText, rowsOf } from './say.ts';
import type { ChartData, ChartLayout, KeyItem } from './shape.ts';
import { useFrame, widthIn } from './use-frame.ts';

export interface ChartProps extends ChartData {
  /** Names the picture and heads its table. */
  title: string;
  /** Heads the column of values. */
  valueHeading: string;
  /** Heads the column that tells the series; without it there is none. */
  seriesHeading?: string | undefined;
  /** Heads the column of notes; without it there is none. */
  noteHeading?: string | undefined;
  /** Writes a value on the axis, without its unit. */
  sayValue?: ((value: number) => string) | undefined;
}

/**
 * Values over calendar days, with the numbers behind it as a table. Readable
 * in grey and to a screen reader; measured in another way is drawn another way
 * and joined by no line; pauses stay open. The page loads the words of the
 * area `chart`. See `ChartData` for what it takes.
 */
export function Chart(props: ChartProps) {
  const box = useRef<HTMLDivElement>(null);
  const frame = useFrame(box);
  const widthOf = useMemo(() => widthIn(frame.face), [frame.face]);
  const id = useId();
  const empty = !hasPoints(props);
  const { title, valueHeading, seriesHeading, noteHeading, sayValue = plainNumber, ...data } = props;
  const layout = empty ? undefined : layoutChart(data, { ...frame, widthOf, sayDay: formatDayTick, sayValue });
  return (
    <figure class="chart">
      <div ref={box} class="chart-room">
        <span class="chart-em" aria-hidden="true" />
        {layout ? (
          <svg
            class="chart-picture"
            role="img"
            aria-labelledby={`${id}-title`}
            aria-describedby={`${id}-words`}
            width={layout.width}
            height={layout.height}
            viewBox={`0 0 ${layout.width} ${layout.height}`}
          >
            <title id={`${id}-title`}>{title}</title>
            <desc id={`${id}-words`}>{chartWords(data)}</desc>
            <Picture layout={layout} mirror={frame.rightToLeft} />
          </svg>
        ) : (
          <p class="chart-empty">{nothingText(data)}</p>
        )}
      </div>
      {layout && (
        <>
          <Under layout={layout} notes={notesUnder(layout, data.gapDays)} />
          <details class="chart-numbers">
            <summary>
              {t('chart:numbers')}
              <span class="unseen">{inARow(['', title])}</span>
            </summary>
            <table>
              <caption>{t('chart:caption', { title })}</caption>
              <thead>
                <tr>
                  <th scope="col">{t('chart:day')}</th>
                  <th scope="col">{valueHeading}</th>
                  {seriesHeading && <th scope="col">{seriesHeading}</th>}
                  {noteHeading && <th scope="col">{noteHeading}</th>}
                </tr>
              </thead>
              <tbody>
                {rowsOf(data).map((row) => (
                  <tr key={row.key}>
                    <th scope="row">{row.when}</th>
                    <td>{row.said}</td>
                    {seriesHeading && <td>{row.name}</td>}
                    {noteHeading && <td>{row.note}</td>}
                  </tr>
                ))}
              </tbody>
            </table>
          </details>
        </>
      )}
    </figure>
  );
}

/**
 * The picture itself. Time runs in reading direction, so on a page from right
 * to left it runs to the left: the calendar, the lists and the line of progress
 * do so too, and readers of such scripts order time that way (Tversky, Kugelmass
 * and Winter 1991; from memory). Because a chart read the wrong way round
 * would turn shrinking into growing, the axis ends in an arrow and names its days.
 */
function Picture({ layout, mirror }: { layout: ChartLayout; mirror: boolean }) {
  const { plot, tickPx, namePx, markPx } = layout;
  const at = (x: number): number => (mirror ? layout.width - x : x);
  const boxAt = (x: number, width: number): number => (mirror ? layout.width - x - width : x);
  const floor = plot.y + plot.height;
  const end = plot.x + plot.width;
  const back = mirror ? 1 : -1;
  const tip = at(end + 0.7 * tickPx);
  return (
    <>
      {layout.bands.map((b) => (
        <g key={b.x} class="chart-band">
          <rect x={boxAt(b.x, b.width)} y={b.y} width={b.width} height={b.height} />
          <path d={`M${at(b.x)} ${b.y}H${at(b.x + b.width)}M${at(b.x)} ${b.y + b.height}H${at(b.x + b.width)}`} />
        </g>
      ))}
      {layout.yTicks.map((tick) => (
        <path key={tick.text} class="chart-grid" d={`M${at(plot.x)} ${tick.y}H${at(end)}`} />
      ))}
      {layout.limits.map((l) => (
        <path key={l.y} class="chart-limit" d={`M${at(plot.x)} ${l.y}H${at(end)}`} />
      ))}
      <path
        class="chart-axis"
        d={`M${at(plot.x)} ${floor}H${tip}M${tip + back * 0.4 * tickPx} ${floor - 0.3 * tickPx}L${tip} ${floor}l${back * 0.4 * tickPx} ${0.3 * tickPx}`}
      />
      {layout.xTicks.map((tick) => (
        <text key={tick.day} class="chart-text" x={at(tick.x)} y={floor + 1.5 * tickPx} text-anchor="middle" font-size={tickPx}>
          {tick.text}
        </text>
      ))}
      {layout.series.map((s) => (
        <g key={s.key}>
          {s.lines.map((line) => (
            <path
              key={line[0]?.x}
              class={`chart-line ${layout.isSteps ? 'is-thin' : ''}`}
              stroke-dasharray={DASHES[s.look]}
              d={`M${line.map(({ x, y }) => `${round(at(x))} ${round(y)}`).join('L')}`}
            />
          ))}
          {s.bars.map((b) => (
            <BarMark key={b.x} look={s.look} x={at(b.x)} top={b.top} bottom={b.bottom} />
          ))}
          {s.marks.map(({ x, y }) =>
            layout.slimPx > 0 ? (
              <BarMark key={x} look={s.look} x={at(x)} top={y - 0.6 * markPx} bottom={y + 0.6 * markPx} width={layout.slimPx} />
            ) : (
              <Mark key={x} look={s.look} x={at(x)} y={y} size={markPx} />
            ),
          )}
        </g>
      ))}
      {layout.missing.map(({ x }) => (
        <text key={x} class="chart-text chart-missing" x={at(x)} y={floor - 0.3 * tickPx} text-anchor="middle" font-size={tickPx}>
          ?
        </text>
      ))}
      {layout.yTicks.map((tick) => (
        <text
          key={tick.text}
          class="chart-text"
          x={at(tick.x)}
          y={layout.yInside ? tick.y - layout.overLine : tick.y + 0.35 * tickPx}
          text-anchor={layout.yInside ? 'start' : 'end'}
          font-size={tickPx}
        >
          {tick.text}
        </text>
      ))}
      {layout.unit && (
        <text class="chart-text" x={at(layout.unit.x)} y={layout.unit.y + 0.3 * tickPx} text-anchor="start" font-size={tickPx}>
          {layout.unit.text}
        </text>
      )}
      {layout.labels.map((label) => (
        <text
          key={label.text}
          class={`chart-name of-${label.kind}`}
          x={at(label.x)}
          y={label.y + 0.35 * namePx}
          text-anchor="start"
          font-size={namePx}
        >
          {label.text}
        </text>
      ))}
    </>
  );
}

/** Steps of an axis are round numbers, however small. */
const plainNumber = (value: number): string => formatNumber(value, 6);

/** A tenth of a pixel is enough, and keeps a long line short in the page. */
const round = (n: number): number => Math.round(n * 10) / 10;

/** What needs saying of the picture. Said by the chart itself, which may stand on a page in another language. */
const notesUnder = (layout: ChartLayout, gapDays: number): string[] => [
  ...(layout.crowd === 'bars' ? [t('chart:bars', { count: layout.barDays })] : []),
  ...(layout.broken ? [t('chart:broken', { count: gapDays })] : []),
  ...(layout.missing.length > 0 ? [t('chart:questionMark')] : []),
];

/** What found no room in the picture, and what its shapes mean. */
function Under({ layout, notes }: { layout: ChartLayout; notes: readonly string[] }) {
  return (
    <>
      {layout.under.length > 0 && (
        <ul class="chart-key" aria-hidden="true">
          {layout.under.map((item) => (
            <li key={item.text}>
              <KeySign item={item} />
              <span>{item.text}</span>
            </li>
          ))}
        </ul>
      )}
      {notes.map((note) => (
        <p key={note} class="chart-note">
          {note}
        </p>
      ))}
    </>
  );
}

function KeySign({ item }: { item: KeyItem }) {
  return (
    <svg class="chart-sign" viewBox="0 0 36 16" aria-hidden="true">
      {item.kind === 'series' && (
        <>
          <path class="chart-line" d="M1 8H35" stroke-dasharray={DASHES[item.look]} />
          <Mark look={item.look} x={18} y={8} size={10} />
        </>
      )}
      {item.kind === 'limit' && <path class="chart-limit" d="M1 8H35" />}
      {item.kind === 'band' && (
        <g class="chart-band">
          <rect x="1" y="2" width="34" height="12" />
          <path d="M1 2H35M1 14H35" />
        </g>
      )}
    </svg>
  );
}
