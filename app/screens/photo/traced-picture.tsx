import { pathOf } from './outline.ts';
import type { PictureSize, Spot } from './view.ts';

interface Props {
  url: string;
  size: PictureSize;
  spots: readonly Spot[];
  label: string;
}

/** A photo with the line that was traced on it. */
export function TracedPicture({ url, size, spots, label }: Props) {
  return (
    <svg class="photo" viewBox={`0 0 ${size.widthPx} ${size.heightPx}`} role="img" aria-label={label}>
      <image href={url} width={size.widthPx} height={size.heightPx} />
      <path class="trace-under" d={pathOf(spots, true)} />
      <path class="trace" d={pathOf(spots, true)} />
    </svg>
  );
}
