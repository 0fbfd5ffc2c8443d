import { useEffect, useState } from 'preact/hooks';
import { photoBytes } from '../../store/photos.ts';
import { useNotebook } from '../context.ts';

/** An address for some bytes, given back when they are no longer shown. */
export function useAddress(bytes: Blob | undefined): string | undefined {
  const [url, setUrl] = useState<string>();
  useEffect(() => {
    if (!bytes) return setUrl(undefined);
    const made = URL.createObjectURL(bytes);
    setUrl(made);
    return () => URL.revokeObjectURL(made);
  }, [bytes]);
  return url;
}

export type PhotoState = { state: 'opening' | 'missing' } | { state: 'here'; bytes: Blob; url: string };

/** The bytes of a photo and an address for them; `missing` when they are not on this phone. */
export function usePhoto(id: string | undefined): PhotoState {
  const { notebook } = useNotebook();
  const [read, setRead] = useState<{ id: string | undefined; bytes: Blob | undefined }>();
  useEffect(() => {
    let current = true;
    const tell = (bytes: Blob | undefined) => current && setRead({ id, bytes });
    if (id === undefined) tell(undefined);
    else photoBytes(notebook.shelf, id).then(tell, () => tell(undefined));
    return () => {
      current = false;
    };
  }, [notebook, id]);
  const bytes = read?.id === id ? read?.bytes : undefined;
  const url = useAddress(bytes);
  if (read?.id !== id || read === undefined) return { state: 'opening' };
  if (!bytes) return { state: 'missing' };
  return url ? { state: 'here', bytes, url } : { state: 'opening' };
}
