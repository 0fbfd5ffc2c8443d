import type { Area } from '../words/i18n.ts';
import type { Route } from './route.ts';

/** A screen that is loaded when it is first shown, with the words it needs. */
export interface Place {
  load: () => Promise<(route: Route) => preact.JSX.Element>;
  areas: readonly Area[];
}

const place = (areas: readonly Area[], load: Place['load']): Place => ({ areas, load });

/** Every place but the first screen, by its name in the address. */
export const PLACES: Record<string, Place> = {
  check: place(['alert', 'check'], async () => {
    const { CheckScreen } = await import('./check/check.tsx');
    return () => <CheckScreen />;
  }),
  checked: place(['alert', 'check'], async () => {
    const { CheckedScreen } = await import('./check/checked.tsx');
    return (r) => <CheckedScreen id={r[1] ?? ''} />;
  }),
  change: place(['alert', 'check', 'change'], async () => {
    const { ChangeScreen } = await import('./change/change.tsx');
    return (r) => <ChangeScreen woundId={r[1]} />;
  }),
  changed: place(['alert', 'check', 'change'], async () => {
    const { ChangedScreen } = await import('./change/changed.tsx');
    return (r) => <ChangedScreen id={r[1] ?? ''} />;
  }),
  alert: place(['alert', 'check'], async () => {
    const { AlertScreen } = await import('./alert/alert.tsx');
    return (r) => <AlertScreen id={r[1] ?? ''} key={r[1]} />;
  }),
  call: place(['alert', 'check'], async () => {
    const { CallScreen } = await import('./alert/call.tsx');
    return () => <CallScreen />;
  }),
  help: place(['alert', 'check'], async () => {
    const { HelpScreen } = await import('./help/help.tsx');
    return () => <HelpScreen />;
  }),
  log: place(['alert', 'check', 'change', 'log', 'supplies'], async () => {
    const [{ LogScreen }, { EntryScreen }, { CorrectScreen }] = await Promise.all([
      import('./log/log.tsx'),
      import('./log/entry.tsx'),
      import('./log/correct.tsx'),
    ]);
    return (r) =>
      r[1] === undefined ? <LogScreen /> : r[2] === 'correct' ? <CorrectScreen id={r[1]} /> : <EntryScreen id={r[1]} key={r[1]} />;
  }),
  note: place(['log'], async () => {
    const { NoteScreen } = await import('./log/correct.tsx');
    return (r) => <NoteScreen forVisit={r[1] === 'visit'} />;
  }),
  visit: place(['common', 'check', 'alert', 'rules', 'visit'], async () => {
    const { VisitScreen } = await import('./visit/visit.tsx');
    return () => <VisitScreen />;
  }),
  supplies: place(['supplies'], async () => {
    const { SuppliesScreen } = await import('./supplies/supplies.tsx');
    return () => <SuppliesScreen />;
  }),
  supply: place(['supplies'], async () => {
    const { SupplyScreen } = await import('./supplies/supply.tsx');
    return (r) => <SupplyScreen id={r[1] ?? ''} key={r[1]} />;
  }),
  order: place(['supplies'], async () => {
    const { OrderScreen } = await import('./supplies/order.tsx');
    return () => <OrderScreen />;
  }),
  used: place(['supplies'], async () => {
    const { UsedScreen } = await import('./supplies/used.tsx');
    return (r) => <UsedScreen change={r[1] ?? ''} key={r[1]} />;
  }),
  'own-item': place(['supplies'], async () => {
    const { OwnItemScreen } = await import('./supplies/used.tsx');
    return () => <OwnItemScreen />;
  }),
  calendar: place(['calendar'], async () => {
    const { CalendarScreen } = await import('./calendar/calendar.tsx');
    return () => <CalendarScreen />;
  }),
  reminders: place(['calendar'], async () => {
    const { RemindersScreen } = await import('./reminders/reminders.tsx');
    return () => <RemindersScreen />;
  }),
  measure: place(['log', 'change'], async () => {
    const { MeasureScreen } = await import('./measure/measure.tsx');
    return () => <MeasureScreen />;
  }),
  plan: place(['alert', 'check', 'change', 'plan'], async () => {
    const { PlanScreen } = await import('./plan/plan.tsx');
    return () => <PlanScreen />;
  }),
  settings: place(['settings', 'today'], async () => {
    const { SettingsScreen } = await import('./settings/settings.tsx');
    return () => <SettingsScreen />;
  }),
  people: place(['settings', 'alert'], async () => {
    const { PeopleScreen } = await import('./settings/settings.tsx');
    return () => <PeopleScreen />;
  }),
  'set-aside': place(['settings'], async () => {
    const { SetAsideScreen } = await import('./settings/settings.tsx');
    return () => <SetAsideScreen />;
  }),
  about: place(['settings'], async () => {
    const { AboutScreen } = await import('./settings/settings.tsx');
    return () => <AboutScreen />;
  }),
  welcome: place(['welcome'], async () => {
    const { WelcomeScreen } = await import('./welcome/welcome.tsx');
    return () => <WelcomeScreen />;
  }),
  open: place(['welcome'], async () => {
    const { OpenPlanScreen } = await import('./welcome/welcome.tsx');
    return () => <OpenPlanScreen />;
  }),
  scan: place(['welcome'], async () => {
    const { ScanScreen } = await import('./scan/scan.tsx');
    return () => <ScanScreen />;
  }),
  confirm: place(['welcome', 'plan', 'check'], async () => {
    const { ConfirmScreen } = await import('./welcome/confirm.tsx');
    return () => <ConfirmScreen />;
  }),
  demo: place(['welcome'], async () => {
    const { DemoScreen } = await import('./welcome/demo.tsx');
    return () => <DemoScreen />;
  }),
};
