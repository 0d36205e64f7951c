declare module 'virtual:opencv-factory' {
  const factory: (module: Record<string, unknown>) => unknown;
  export default factory;
}
