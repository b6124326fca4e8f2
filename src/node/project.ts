/**
 * Where the project lies: the folder of `package.json`, `content/` and `templates/`. The same from `src/base/`, from the
 * compiled `.build/base/` and from the packed `.build/bin/`.
 */
export const PROJECT: URL = new URL('../../', import.meta.url);
