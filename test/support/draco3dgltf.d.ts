/** The package has no types of its own. */
declare module 'draco3dgltf' {
  const draco: {
    createEncoderModule(options: object): Promise<unknown>;
    createDecoderModule(options: object): Promise<unknown>;
  };
  export default draco;
}
