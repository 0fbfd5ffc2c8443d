import { createContext } from 'preact';
import { useContext } from 'preact/hooks';
import type { LocalDay } from '../care/schedule/day.ts';
import type { DeskState, Edit } from './desk-state.ts';
import type { NameSupply } from './supplies.ts';

/** What every part of the form works on. */
export interface DeskTools {
  state: DeskState;
  edit: (edit: Edit) => void;
  /** The wound whose sections are shown. */
  wound: string;
  today: LocalDay;
  /** Names supplies in the person's language. */
  nameOf: NameSupply;
}

export const DeskContext = createContext<DeskTools | undefined>(undefined);

export function useDesk(): DeskTools {
  const tools = useContext(DeskContext);
  if (!tools) throw new Error('no desk around this part');
  return tools;
}
