/** The builder puts the file beside the page and gives its address. */
declare module '*.woff2?url' {
  const address: string;
  export default address;
}
