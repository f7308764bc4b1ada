import { useEffect, useState } from 'react';

/** True once `is` has held for `ms`. */
export function useLasting(is: boolean, ms: number): boolean {
  const [lasts, setLasts] = useState(false);
  useEffect(() => {
    if (!is) return;
    const timer = setTimeout(() => setLasts(true), ms);
    return () => {
      clearTimeout(timer);
      setLasts(false);
    };
  }, [is, ms]);
  return is && lasts;
}
