import type { BundleEntry } from 'fhir/r4';
import type { RecordOf } from '../../care/log/records.ts';
import type { Entry } from '../../care/log/timeline.ts';
import { type Context, entryFor, identifierOf, listed, notesOf, patientRef, recordUrl, whenOf, woundSite, writerOf } from './context.ts';

/** The bytes of a photo that the person chose to hand over. */
export interface ChosenPhoto {
  /** Such as `image/jpeg`. */
  type: string;
  bytes: Uint8Array<ArrayBuffer>;
}

/** Bytes as base64 with padding (RFC 4648, section 4), a slice at a time because a call takes only so many arguments. */
export function toBase64(bytes: Uint8Array): string {
  const SLICE = 0x8000;
  let binary = '';
  for (let at = 0; at < bytes.length; at += SLICE) binary += String.fromCharCode(...bytes.subarray(at, at + SLICE));
  return btoa(binary);
}

/** A photo of a wound, with its bytes. */
export function photoMedia(ctx: Context, entry: Entry<RecordOf<'photo'>>, photo: ChosenPhoto): BundleEntry {
  const { now, first } = entry;
  const url = recordUrl(ctx, first.id);
  return entryFor(ctx, url, {
    resourceType: 'Media',
    identifier: [identifierOf(url)],
    status: 'completed',
    type: { coding: [{ system: 'http://terminology.hl7.org/CodeSystem/media-type', code: 'image' }] },
    subject: patientRef(ctx),
    createdDateTime: whenOf(entry),
    operator: writerOf(ctx, first),
    bodySite: woundSite(ctx, now, now.wound),
    width: now.widthPx,
    height: now.heightPx,
    content: { contentType: photo.type, data: toBase64(photo.bytes), size: photo.bytes.length },
    ...listed('note', notesOf(ctx, entry)),
  });
}
