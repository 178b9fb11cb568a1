/** How long something has been going on: it shows that it still does. */
import { useEffect, useState } from 'preact/hooks';

export function Seconds() {
  const [seconds, setSeconds] = useState(0);
  useEffect(() => {
    const timer = setInterval(() => setSeconds((n) => n + 1), 1000);
    return () => clearInterval(timer);
  }, []);
  return <span aria-hidden="true">{seconds > 0 && ` ${seconds} s`}</span>;
}
