/** What a button that can be out of use for a while is given. */
interface Press {
  onClick: () => void;
  'aria-disabled'?: true;
}

const NOTHING = (): void => undefined;

/**
 * A button that rests while something is being done, or at the end of its way.
 * With `disabled` a browser takes the focus away from it: whoever works with a
 * keyboard or a screen reader would start anew at the top of the page.
 * @param rests whether a press does nothing now.
 */
export const press = (act: () => void, rests: boolean): Press => (rests ? { 'aria-disabled': true, onClick: NOTHING } : { onClick: act });
