/** Version of this page, as in package.json; shown on screen and on every paper. */
export const version = '0.1.0';
