import { useEffect, useRef, useState } from 'preact/hooks';

/** A camera that shows its picture in a video element and reads it. */
export interface Camera {
  start(video: HTMLVideoElement): Promise<void>;
  stop(): void;
}

/**
 * A camera that is on while its video element is on screen and the page in sight.
 * @param make told how to say its state and what it read.
 * @param starting the state before it has said one.
 * @param onText told of every text that is found, again and again while it is in the picture.
 */
export function useCamera<State>(
  make: (tell: (state: State) => void, onText: (text: string) => void) => Camera,
  starting: State,
  onText: (text: string) => void,
) {
  const video = useRef<HTMLVideoElement>(null);
  const told = useRef(onText);
  told.current = onText;
  const [state, setState] = useState<State>(starting);
  const [attempt, setAttempt] = useState(0);
  useEffect(() => {
    const camera = make(setState, (text) => told.current(text));
    const turn = () => {
      const element = video.current;
      if (document.visibilityState === 'hidden') camera.stop();
      else if (element) void camera.start(element);
    };
    turn();
    document.addEventListener('visibilitychange', turn);
    return () => {
      document.removeEventListener('visibilitychange', turn);
      camera.stop();
    };
  }, [attempt]);
  const again = () => {
    setState(starting);
    setAttempt((n) => n + 1);
  };
  return { video, state, again };
}
