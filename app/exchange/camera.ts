import { readCode } from './qr.ts';

/** How long to rest between two looks, so that a phone stays cool. */
const REST_MS = 150;
/** Wide enough for a code of 113 modules that fills half the picture. */
const WIDTH = 1920;

/** `decoder`: the part that reads codes cannot be loaded. */
export type CameraState = 'starting' | 'looking' | 'denied' | 'noCamera' | 'busy' | 'decoder';

function stateOf(error: unknown): CameraState {
  const name = error instanceof DOMException ? error.name : '';
  if (name === 'NotAllowedError' || name === 'SecurityError') return 'denied';
  return name === 'NotReadableError' || name === 'AbortError' ? 'busy' : 'noCamera';
}

async function openCamera(): Promise<MediaStream> {
  // Absent where the page has no safe origin, or the browser no camera at all.
  if (!navigator.mediaDevices) throw new DOMException('', 'NotFoundError');
  return navigator.mediaDevices.getUserMedia({ video: { facingMode: { ideal: 'environment' }, width: { ideal: WIDTH } }, audio: false });
}

function stopAll(stream: MediaStream): void {
  for (const track of stream.getTracks()) track.stop();
}

/** One picture of the camera as pixels; undefined while there is none. */
function pictureOf(video: HTMLVideoElement, canvas: HTMLCanvasElement): ImageData | undefined {
  const { videoWidth: width, videoHeight: height } = video;
  if (width === 0 || height === 0) return undefined;
  canvas.width = width;
  canvas.height = height;
  const context = canvas.getContext('2d', { willReadFrequently: true });
  context?.drawImage(video, 0, 0);
  return context?.getImageData(0, 0, width, height);
}

/**
 * The rear camera in a video element, read for codes. It may be stopped and
 * started again.
 */
export class CodeCamera {
  private stream: MediaStream | undefined;
  /** Counts the starts, so that one that was stopped meanwhile notices. */
  private turn = 0;

  constructor(
    private readonly tell: (state: CameraState) => void,
    /** Told of every text that is found, again and again while it is in the picture. */
    private readonly onText: (text: string) => void,
  ) {}

  stop(): void {
    this.turn++;
    if (this.stream) stopAll(this.stream);
    this.stream = undefined;
  }

  async start(element: HTMLVideoElement): Promise<void> {
    this.stop();
    const mine = this.turn;
    const stream = await openCamera().catch((error: unknown) => {
      if (mine === this.turn) this.tell(stateOf(error));
    });
    if (!stream) return;
    // The screen may have been left while the person was asked.
    if (mine !== this.turn) return stopAll(stream);
    this.stream = stream;
    element.srcObject = stream;
    await element.play().catch(() => undefined);
    if (mine === this.turn) this.tell('looking');
    await this.look(element, mine).catch(() => {
      if (mine !== this.turn) return;
      this.stop();
      this.tell('decoder');
    });
  }

  private async look(element: HTMLVideoElement, mine: number): Promise<void> {
    const canvas = document.createElement('canvas');
    while (mine === this.turn) {
      const picture = pictureOf(element, canvas);
      for (const text of picture ? await readCode(picture) : []) if (mine === this.turn) this.onText(text);
      await new Promise((done) => setTimeout(done, REST_MS));
    }
  }
}
