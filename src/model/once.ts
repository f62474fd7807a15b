/** What is made when it is first asked for, and once: a run uses few of all, and making them takes long. */
export function once<T>(make: () => T): () => T {
  let made: T | undefined;
  return () => {
    made ??= make();
    return made;
  };
}

/** The same for each of some keys. */
export function onceFor<K, T>(make: (key: K) => T): (key: K) => T {
  const made = new Map<K, T>();
  return (key) => {
    if (!made.has(key)) made.set(key, make(key));
    return made.get(key) as T;
  };
}
