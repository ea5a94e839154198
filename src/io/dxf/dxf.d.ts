/** The part of the package that is used: text to entities, entities to polylines in the drawing's units. */
declare module 'dxf' {
  export interface ParsedDxf {
    readonly entities: readonly object[];
  }
  export function parseString(text: string): ParsedDxf;
  export function toPolylines(parsed: {
    entities: readonly object[];
    blocks: readonly object[];
    tables: { layers: object };
  }): { readonly polylines: readonly { readonly vertices: readonly (readonly number[])[] }[] };
}
