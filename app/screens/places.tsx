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
  change: place(['alert', 'check', 'change', 'plan'], async () => {
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
  'hand-over': place(['handOver', 'keep', 'alert', 'check', 'change', 'log', 'plan', 'rules', 'supplies'], async () => {
    const { HandOverScreen } = await import('./hand-over/hand-over.tsx');
    return () => <HandOverScreen />;
  }),
  note: place(['log'], async () => {
    const { NoteScreen } = await import('./log/correct.tsx');
    return (r) => <NoteScreen forVisit={r[1] === 'visit'} />;
  }),
  visit: place(['common', 'check', 'alert', 'rules', 'chart', 'visit'], async () => {
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
  photos: place(['photo'], async () => {
    const [{ AlbumScreen }, { PhotoScreen }] = await Promise.all([import('./photo/album.tsx'), import('./photo/one.tsx')]);
    return (r) => (r[1] === undefined ? <AlbumScreen /> : <PhotoScreen id={r[1]} key={r[1]} />);
  }),
  'take-photo': place(['photo'], async () => {
    const { TakePhotoScreen } = await import('./photo/take.tsx');
    return () => <TakePhotoScreen />;
  }),
  trace: place(['photo'], async () => {
    const { TraceScreen } = await import('./photo/trace.tsx');
    return (r) => <TraceScreen id={r[1] ?? ''} key={r[1]} />;
  }),
  course: place(['chart', 'check', 'course'], async () => {
    const { CourseScreen } = await import('./course/course.tsx');
    return () => <CourseScreen />;
  }),
  weigh: place(['course', 'log'], async () => {
    const { WeighScreen } = await import('./weigh/weigh.tsx');
    return (r) => <WeighScreen woundId={r[1]} />;
  }),
  plan: place(['alert', 'check', 'change', 'plan'], async () => {
    const { PlanScreen } = await import('./plan/plan.tsx');
    return () => <PlanScreen />;
  }),
  settings: place(['settings', 'today'], async () => {
    const [{ SettingsScreen }, { OneSettingScreen }, { isSetting }] = await Promise.all([
      import('./settings/settings.tsx'),
      import('./settings/one-setting.tsx'),
      import('./settings/values.ts'),
    ]);
    return ([, name = '']) => (isSetting(name) ? <OneSettingScreen name={name} key={name} /> : <SettingsScreen />);
  }),
  lock: place(['lock'], async () => {
    const { PasscodeScreen } = await import('./lock/passcode.tsx');
    return () => <PasscodeScreen />;
  }),
  erase: place(['lock'], async () => {
    const { EraseScreen } = await import('./lock/passcode.tsx');
    return () => <EraseScreen />;
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
  scan: place(['welcome', 'keep'], async () => {
    const { ScanScreen } = await import('./scan/scan.tsx');
    return (r) => <ScanScreen forLog={r[1] === 'log'} key={r[1]} />;
  }),
  confirm: place(['welcome', 'plan', 'check'], async () => {
    const { ConfirmScreen } = await import('./welcome/confirm.tsx');
    return () => <ConfirmScreen />;
  }),
  demo: place(['welcome'], async () => {
    const { DemoScreen } = await import('./welcome/demo.tsx');
    return () => <DemoScreen />;
  }),
  keep: place(['keep'], async () => {
    const { KeepScreen } = await import('./keep/keep.tsx');
    return () => <KeepScreen />;
  }),
  copy: place(['keep'], async () => {
    const { CopyScreen } = await import('./keep/copy.tsx');
    return () => <CopyScreen />;
  }),
  'bring-back': place(['keep'], async () => {
    const { BringBackScreen } = await import('./keep/bring-back.tsx');
    return () => <BringBackScreen />;
  }),
  phones: place(['keep'], async () => {
    const { PhonesScreen } = await import('./keep/phones.tsx');
    return () => <PhonesScreen />;
  }),
  send: place(['keep'], async () => {
    const { SendScreen } = await import('./keep/send.tsx');
    return () => <SendScreen />;
  }),
  codes: place(['keep'], async () => {
    const { CodesScreen } = await import('./keep/codes.tsx');
    return () => <CodesScreen />;
  }),
  'take-in': place(['keep', 'welcome', 'plan', 'today'], async () => {
    const { TakeInScreen } = await import('./keep/take-in.tsx');
    return () => <TakeInScreen />;
  }),
  judge: place(['keep', 'check', 'alert', 'supplies', 'settings'], async () => {
    const { JudgeScreen } = await import('./keep/judge.tsx');
    return () => <JudgeScreen />;
  }),
};
