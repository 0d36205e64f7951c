/** The hand-written subset of OpenCV that Bedplane uses; opencv-wasm's own types are `any` throughout. */
export interface Mat {
  readonly rows: number;
  readonly cols: number;
  /** Views into the wasm heap: take them anew after every allocation, an older one has length 0 once the heap grew. */
  readonly data: Uint8Array;
  readonly data16S: Int16Array;
  readonly data32F: Float32Array;
  readonly data64F: Float64Array;
  type(): number;
  channels(): number;
  delete(): void;
  isDeleted(): boolean;
  clone(): Mat;
  roi(rect: { x: number; y: number; width: number; height: number }): Mat;
  convertTo(dst: Mat, rtype: number, alpha?: number, beta?: number): void;
  copyTo(dst: Mat): void;
}
export interface MatVector {
  push_back(mat: Mat): void;
  get(index: number): Mat;
  size(): number;
  delete(): void;
}
export interface Size {
  width: number;
  height: number;
}
export interface OpenCv {
  Mat: { new (): Mat; new (rows: number, cols: number, type: number): Mat };
  MatVector: new () => MatVector;
  Size: new (w: number, h: number) => Size;
  Rect: new (
    x: number,
    y: number,
    w: number,
    h: number,
  ) => { x: number; y: number; width: number; height: number };
  Scalar: new (...v: number[]) => number[];
  Point: new (x: number, y: number) => { x: number; y: number };
  matFromArray(rows: number, cols: number, type: number, data: ArrayLike<number>): Mat;
  cvtColor(src: Mat, dst: Mat, code: number, dstCn?: number): void;
  sepFilter2D(
    src: Mat,
    dst: Mat,
    ddepth: number,
    kx: Mat,
    ky: Mat,
    anchor?: unknown,
    delta?: number,
    border?: number,
  ): void;
  blur(src: Mat, dst: Mat, ksize: Size): void;
  GaussianBlur(src: Mat, dst: Mat, ksize: Size, sigmaX: number, sigmaY?: number, borderType?: number): void;
  resize(src: Mat, dst: Mat, size: Size, fx?: number, fy?: number, inter?: number): void;
  split(src: Mat, planes: MatVector): void;
  transform(src: Mat, dst: Mat, m: Mat): void;
  remap(src: Mat, dst: Mat, map1: Mat, map2: Mat, inter: number, border?: number): void;
  warpPerspective(src: Mat, dst: Mat, m: Mat, size: Size, flags?: number, border?: number): void;
  mean(src: Mat): number[];
  findTransformECC(
    template: Mat,
    input: Mat,
    map: Mat,
    motion: number,
    until: unknown,
    mask: Mat,
    smoothing: number,
  ): number;
  TermCriteria: new (type: number, count: number, least: number) => unknown;
  TermCriteria_COUNT: number;
  TermCriteria_EPS: number;
  MOTION_EUCLIDEAN: number;
  MOTION_HOMOGRAPHY: number;
  exceptionFromPtr(p: number): { msg: string };
  HEAPU8: Uint8Array;
  CV_8U: number;
  CV_8UC1: number;
  CV_8UC3: number;
  CV_8UC4: number;
  CV_32F: number;
  CV_32FC1: number;
  CV_32FC4: number;
  CV_64FC1: number;
  COLOR_RGBA2GRAY: number;
  COLOR_RGBA2RGB: number;
  INTER_LINEAR: number;
  INTER_AREA: number;
  INTER_CUBIC: number;
  BORDER_REPLICATE: number;
  BORDER_REFLECT: number;
}
