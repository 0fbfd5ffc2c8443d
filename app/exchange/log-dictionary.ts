import { joinBytes } from './bytes.ts';
import { dictionaryOf } from './dictionary.ts';

/**
 * The preset dictionary of logs in QR codes: words of the records' schema in
 * the order and company in which they usually stand, most common last, behind
 * the first dictionary of plans, for a plan goes along. It holds no person's
 * entries.
 *
 * Frozen: every log packed with it needs it letter for letter for ever. A
 * better one is a new entry under a new number, beside this one.
 */
const FIRST = [
  '"from":"2031-0","made":"2031-0"device":"acceptedAt":"2031-0"Europe/Madrid"Europe/London"America/New_York"America/Los_Angeles"',
  '"kind":"weighing","wound":"w1","change":"","dryG":1.,"usedG":,"stepG":0.1,"hours":4"kind":"photo","wound":"w1","photo":"","widthPx":1600,"heightPx":1200',
  '"kind":"visit","note":"""kind":"ownItem","item":"own-","name":"","packOf":10"kind":"void","target":"","why":"""kind":"note","text":"","forVisit":true',
  '"kind":"planAccepted","accepted":{"id":"","revision":1,"clinic":" Foot Clinic"}',
  '"shakingChills""confusedOrDrowsy""fastBreathing""faint""mottledSkin""noUrine""worstEver""vomiting""feelsFeverish":"no""yes""unsure"',
  '"glucose":{"value":1,"unit":"mg/dL"},"unit":"mmol/L"},"unit":"[degF]","site":"ear","site":"forehead","site":"armpit","again":3',
  '"newBlack""paleOrBlueAndCold""paleOrBlue""darkerPatch""severe""hotAndSwollen""warmer","swelling":"new""loose""wetFromOutside""markedThrough""leaking"',
  '"spots""soakedThenStopped""willNotStop""heavy""brownOrGrey""cloudyThick""green""newOrStronger""wide""spreading""streaks""fast""deeper""boneOrTendon"',
  '"whiteSoggy""newBlisterOrSore""hardly""brokenOrHurts""pairs":[{"site":"","woundSide":3,"otherSide":2,"unit":"Cel"}],"feel":"same"}',
  '"path":"keepDry""coverAndCall","stopped":true"state":"skipped""different","note":"{"step":"dryDressing","state":"done"},{"step":"device","state":"done"},',
  '"kind":"alert","level":"callNow","told":"emergency","from":"","fired":[{"rule":"sepsis-sign","level":"emergency","findings":["unwell:',
  '{"rule":"fever","level":"callNow","findings":["temperature:fever"]},{"rule":"two-signs""rule":"drainage-above-plan""rule":"change-overdue""rule":"unresolved"',
  '{"rule":"offloading-off","level":"mention","findings":["offloading:hardly"]}{"rule":"warm-once","level":"mention","findings":["warmth:warmer"]}{"rule":"not-sure"',
  '"kind":"alert","level":"callToday","told":"callToday","from":"","fired":[{"rule":"one-sign","level":"callToday","findings":["pain:more"],"wounds":["w1"]}]}',
  '"kind":"outcome","alerts":["-callToday"],"what":"reached","said":"","what":"couldNotReach""calledEmergency""wentToHospital"',
  '"kind":"measurement","wound":"w1","method":"trace","areaMm2":,"perimeterMm":,"scale":"code","outline":[[0.,"method":"clinic","lengthMm":2,"widthMm":1,"depthMm":"method":"ruler","lengthMm":1',
  '"kind":"stock","item":"","movement":"wasted","amount":"movement":"counted","amount":,"movement":"received","amount":10,"expires":"2032-',
  '"by":{"who":"caregiver","name":""},"by":{"who":"patient"},"device":"","plan":{"id":"","revision":},"amends":"","plan":{"id":"","revision":1},',
  '"judgement":{"level":"mention","told":"mention","fired":[{"rule":"","level":"mention","findings":[""]}],"quieted":[{"rule":',
  '"steps":[{"step":"washHands","state":"done"},{"step":"gather","state":"done"},{"step":"gloves","state":"done"},{"step":"remove","state":"done"},{"step":"rinse","state":"done"},{"step":"look","state":"done"},{"step":"freshGloves","state":"done"},{"step":"clean","state":"done"},{"step":"dryAround","state":"done"},{"step":"protectSkin","state":"done"},{"step":"primary","state":"done"},{"step":"secondary","state":"done"},{"step":"fix","state":"done"},{"step":"throwAway","state":"done"},{"step":"washHandsAgain","state":"done"}],"judgement":{"level":"carryOn","told":"carryOn","fired":[],"quieted":[]}},',
  '"kind":"change","wound":"w1","check":"","startedAt":"2031-0","answers":{"drainageAmount":"none","drainageAmount":"moderate","drainageAmount":"light","drainageColour":"pink","drainageColour":"clear","odour":"usual","odour":"none","redness":"rim","redness":"none","woundBed":["yellow"],"woundBed":["red","yellow"],"woundBed":["red"],"edge":"usual"},"band":"none","band":"moderate","band":"light","path":"recipe","steps":[',
  '"kind":"stock","item":"saline","movement":"used","amount":1,"change":""},{"id":"-0","at":"2031-0T1:.000Z","day":"2031-0","zone":"America/Chicago","by":{"who":"patient"},"device":"","plan":{"id":"","revision":1},"kind":"stock","item":"gloves","movement":"used","amount":2,"change":"',
  '"kind":"check","person":{"unwell":["none"],"temperature":{"value":36.8,"unit":"Cel","site":"mouth"},"offloading":"mostly"},"temperature":{"value":36.,"unit":"Cel","site":"mouth"},"offloading":"always"},"feet":{"right":{"footColour":"usual","pain":"more","warmth":"same","swelling":"usual"},"left":{"footColour":"usual","pain":"usual","warmth":"same","swelling":"usual"}},"wounds":{"w2":{"dressing":"dryInPlace","bleeding":"none"},"w1":{"dressing":"dryInPlace","bleeding":"none"}},"judgement":{"level":"carryOn","told":"carryOn","fired":[],"quieted":[]}},',
  '{"tendbook":"book","version":1,"made":"2031-0T1:.000Z","device":"","acceptedAt":"2031-0T1:.000Z","records":[{"id":"","at":"2031-0T1:.000Z","day":"2031-0","zone":"America/Chicago","by":{"who":"patient"},"device":"","plan":{"id":"","revision":1},"kind":"',
].join('\n');

const DICTIONARIES: ReadonlyMap<number, Uint8Array> = new Map([
  [1, joinBytes([dictionaryOf(1) as Uint8Array, new TextEncoder().encode(FIRST)])],
]);

/** The number of the dictionary that new logs are packed with. */
export const LOG_DICTIONARY_NOW = 1;

/** The dictionary of a number; undefined for one that this app does not have. */
export const logDictionaryOf = (number: number): Uint8Array | undefined => DICTIONARIES.get(number);
