import { type Code, pathOf, QUIET_MODULES } from '../exchange/qr-write.ts';
import { CodePicture as Picture } from '../parts/code-picture.tsx';

/** A QR code of the desk. */
export const CodePicture = ({ code, label, size }: { code: Code; label: string; size?: string }) => (
  <Picture path={pathOf(code)} modules={code.size} quiet={QUIET_MODULES} label={label} size={size} />
);
