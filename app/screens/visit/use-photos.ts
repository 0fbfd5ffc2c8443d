import { useEffect, useState } from 'preact/hooks';
import type { VisitSummary } from '../../care/visit/summary.ts';
import { photoBytes } from '../../store/photos.ts';
import { useBook } from '../context.ts';

/** Addresses of the photos that a summary shows, by the id of their bytes, as far as they are on this phone. They end with the page. */
export function usePhotos(summary: VisitSummary | undefined): ReadonlyMap<string, string> {
  const { notebook } = useBook();
  const [addresses, setAddresses] = useState<ReadonlyMap<string, string>>(new Map());
  const ids = (summary?.wounds ?? []).flatMap(({ photos }) => [photos.first, photos.latest]).flatMap((p) => (p ? [p.photo] : []));
  const key = [...new Set(ids)].sort().join(' ');
  useEffect(() => {
    let current = true;
    const made: string[] = [];
    const read = async () => {
      const found = new Map<string, string>();
      for (const id of key === '' ? [] : key.split(' ')) {
        const bytes = await photoBytes(notebook.shelf, id);
        if (!current) return;
        if (!bytes) continue;
        const address = URL.createObjectURL(bytes);
        made.push(address);
        found.set(id, address);
      }
      setAddresses(found);
    };
    // A photo that cannot be read is told as one that is not here.
    void read().catch(() => undefined);
    return () => {
      current = false;
      for (const address of made) URL.revokeObjectURL(address);
    };
  }, [notebook, key]);
  return addresses;
}
