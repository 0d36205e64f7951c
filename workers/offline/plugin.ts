import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { type Plugin, transformWithOxc } from 'vite';

/**
 * Writes dist/offline.js: the service worker with the list of everything the page is made of and a version that is the hash
 * of it all. The sample's photographs are left out: the page works without them.
 */
export function offlinePlugin(source: string): Plugin {
  let publicDir = '';
  return {
    name: 'offline-copy',
    apply: 'build',
    enforce: 'post',
    configResolved(config) {
      publicDir = config.publicDir;
    },
    generateBundle: {
      order: 'post',
      async handler(_options, bundle) {
        const hash = createHash('sha256');
        const files = ['./'];
        for (const [name, file] of Object.entries(bundle)) {
          if (name.endsWith('.jpg') || name.endsWith('.map')) continue;
          hash.update(name).update(file.type === 'chunk' ? file.code : file.source);
          if (name !== 'index.html') files.push(name);
        }
        for (const name of readdirSync(publicDir)) {
          hash.update(readFileSync(`${publicDir}/${name}`));
          files.push(name);
        }
        const { code } = await transformWithOxc(readFileSync(source, 'utf8'), source, {
          define: {
            __FILES__: JSON.stringify(files),
            __VERSION__: JSON.stringify(hash.digest('hex').slice(0, 12)),
          },
        });
        this.emitFile({ type: 'asset', fileName: 'offline.js', source: code });
      },
    },
  };
}
