/**
 * The preset dictionary of signed plans: words of the plan's schema in the
 * order and company in which they usually stand, most common last, because
 * deflate reaches nearer text more cheaply. It holds no clinic and no person.
 *
 * Frozen: every plan signed with it needs it letter for letter for ever. A
 * better one is a new entry under a new number, beside this one.
 */
const FIRST = [
  '"timesADay","times":"povidoneIodine","iodinePrescribed":true"boiledWater""tapWater""tubularBandage""zincPaste""barrierCream"',
  '"tue""thu""sat""sun"{"kind":"weekdays","days":["mon","wed","fri"]}"wheelchair""crutches""insoles""feltPadding""surgicalShoe""heelShoe"',
  '"forefootShoe""castShoe""walkerBoot""secondToe""thirdToe""fourthToe""littleToe""betweenToes""bigToe""ballMiddle""ballOuter""ballInner"',
  '"arch""outerEdge""heelBack""heelUnder""innerAnkle""outerAnkle""topOfFoot""stump""composite""film""hydrocolloid""impregnatedGauze"',
  '"contactLayer""collagenPowder""gellingFibreRope""alginateRope""hydrogelGauze""foam""dryGauze""absorbentPad""gellingFibreSheet","silver":true',
  '"glucose""offloading""warmth""drainageColour:brownOrGrey""drainageColour:green""drainageColour:cloudyThick""swelling:new""odour:usual"',
  '{"thresholds":{"feverC":37.,"raisedC":,"warmthDifferenceC":,"glucoseHighMgdl":,"glucoseHighIllMgdl":,"growthShare":0.},"alsoSigns":[',
  '"raise":{"callToday","callNow","emergency","warmthSites":["joinWithinHours":',
  ' Foot Clinic Wound Hospital Podiatry Clínica del pie Hospital herida ',
  ' Sheet Foam with border Gauze pads Saline ml Pairs of clean gloves Barrier film wipe Hydrogel tube Roll bandage Alginate sheet 5 × 5 cm Collagen sheet 10 × 10 cm',
  ' Do not put. Keep it dry. Call us if the wound. No ponga. Que no se moje. Llámenos si la herida. guantes gasa suero fisiológico venda apósito ',
  '{"tendbook":"plan","plan":{"version":1,"id":"","revision":1,"issued":"2031-0","clinic":{"name":"","phone":"+1 555 01","outOfHoursPhone":"+34 555 01","emergencyNumber":"112","emergencyNumber":"911","hours":[',
  '{"day":"mon","opens":"08:00","closes":"17:00"},{"day":"tue","opens":"08:30","closes":"17:00"},{"day":"wed","opens":"09:00","closes":"16:30"},{"day":"thu","opens":"08:30","closes":"17:00"},{"day":"fri","opens":"08:00","closes":"13:00"}],',
  '"closedDays":["2031-"],"zone":"Europe/Madrid"},"zone":"America/New_York"},"zone":"America/Chicago"},"person":{"id":"","callMe":"","language":"es"},"language":"en"},"wounds":[{"id":"w1","site":"","side":"right","label":"","side":"left",',
  '"keepDry":true,"baseline":{"day":"2031-0","lengthMm":2,"widthMm":1,"depthMm":},"expectedDrainage":["none","none"],"expectedDrainage":["moderate","moderate"],"expectedDrainage":["light","moderate"],"known":[],"bands":{"none":{"callUs":true},"light":{"callUs":true},"moderate":{"callUs":true},"heavy":{"callUs":true}}}],',
  '"light":{"recipe":{"primary":{"family":"collagenSheet","widthMm":50,"heightMm":50},"moderate":{"recipe":{"primary":{"family":"alginateSheet","widthMm":50,"heightMm":50},"heavy":{"recipe":{"primary":{"family":"gellingFibreSheet",',
  '"none":{"recipe":{"primary":{"family":"hydrogel"},"secondary":{"family":"dryGauze","widthMm":100,"heightMm":100},"fixation":"rollBandage","change":{"kind":"hours","hours":24},"cleanser":"saline","skinProtection":"none","steps":[{"step":"freshGloves"},{"step":"dryDressing"},{"step":"fix"},{"step":"throwAway"},{"step":"washHandsAgain"}],',
  '"cleanser":"none","fixation":"none""tape""},"secondary":{"family":"foamBordered","widthMm":100,"heightMm":100},"fixation":"adhesiveBorder","change":{"kind":"hours","hours":48},"cleanser":"saline","skinProtection":"barrierFilm",',
  '"steps":[{"step":"freshGloves"},{"step":"clean"},{"step":"dryAround"},{"step":"protectSkin"},{"step":"primary","note":""},{"step":"secondary"},{"step":"fix"},{"step":"device"},{"step":"throwAway"},{"step":"washHandsAgain"}],',
  '"uses":[{"item":"hydrogel","amount":1},{"item":"collagenSheet-50x50","amount":1},{"item":"alginateSheet-50x50","amount":1},{"item":"dryGauze-100x100","amount":1},{"item":"foamBordered-100x100","amount":1},{"item":"saline","amount":1},{"item":"swabs","amount":4},{"item":"gloves","amount":2},{"item":"barrierFilm","amount":1},{"item":"rollBandage","amount":1}]}},',
  '"supplies":[{"id":"collagenSheet-50x50","name":"","family":"collagenSheet","packOf":5},{"id":"alginateSheet-50x50","name":"","family":"alginateSheet","packOf":10},{"id":"foamBordered-100x100","name":"","family":"foamBordered","packOf":10},{"id":"dryGauze-100x100","name":"","family":"dryGauze"},{"id":"saline","name":"","packOf":100},{"id":"swabs","name":"","packOf":50},{"id":"gloves","name":"","packOf":30},{"id":"barrierFilm","name":"","packOf":20},{"id":"rollBandage","name":"',
  '"}],"donts":["noAlcohol","noPeroxide","noIodineUnlessTold","noOintmentOnBlack","noSoaking","noBarefoot","noHeat","noCutting","noCornRemovers","noSwap"],"ownDonts":[],"device":{"kind":"walkerBoot","note":""},"asks":["offloading"],"escalation":{},"reviewBy":"2031-0","nextVisit":{"day":"2031-0","time":"10:30"},"greeting":"',
].join('\n');

const DICTIONARIES: ReadonlyMap<number, Uint8Array> = new Map([[1, new TextEncoder().encode(FIRST)]]);

/** The number of the dictionary that new plans are packed with. */
export const DICTIONARY_NOW = 1;

/** The dictionary of a number; undefined for one that this app does not have. */
export const dictionaryOf = (number: number): Uint8Array | undefined => DICTIONARIES.get(number);
