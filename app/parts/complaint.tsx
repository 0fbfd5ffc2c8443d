import { useEffect, useRef } from 'preact/hooks';

/** What to do before going on, said at once and brought into view: with large text it may lie under the button. */
export function Complaint({ id, text }: { id: string; text: string }) {
  const line = useRef<HTMLParagraphElement>(null);
  useEffect(() => line.current?.scrollIntoView?.({ block: 'nearest' }), [text]);
  return (
    <p class="error" id={id} role="alert" ref={line}>
      {text}
    </p>
  );
}
