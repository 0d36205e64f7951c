// The survey of contract A (DEVELOPERS.md, "The survey file"), every field in it.
export const contractText = `{ "format": "bedplane-survey", "version": 1, "title": "Boathouse store, east wall", "units": "mm",
  "wall": { "width": 3600, "height": 2450, "side": "internal",
            "openings": [{ "id": "o1", "kind": "window", "along": 1500, "up": 900, "width": 700, "height": 1200 }],
            "boxes": [{ "id": "b1", "kind": "socket", "along": 400, "up": 300, "width": 80, "height": 80, "proud": 0 }] },
  "phones": [{ "id": "p1", "name": "site phone", "lens": { "k1": null, "sigma": 0.01 } }],
  "readings": [{ "id": "r1", "along": 200, "up": 300, "distance": 61.5, "sigma": 0.7 }],
  "photos": [{ "id": "f1", "file": "photos/f1.jpg", "phone": "p1",
     "stand": { "off": 2500, "up": 1800, "along": null, "sigma": 10 },
     "marks": [{ "u": 386.1, "v": 2123.8, "along": 100, "up": 759, "sigma": 1 },
               { "u": 2900, "v": 2120, "along": 2100, "up": 759, "sigma": 1 }],
     "tapes": [{ "from": 0, "to": 1, "axis": "along", "pitch": 10 }],
     "masks": [{ "u": 0, "v": 0, "width": 200, "height": 90 }],
     "lines": [{ "id": "l1", "colour": "green", "sheet": { "axis": "level", "at": 800 },
        "points": [{ "u": 300.4, "v": 2080.1, "sigma": 0.1, "state": "found" }],
        "gaps": [] }] }],
  "lining": { "board": { "width": 1200, "length": 2400, "thickness": 12.5 }, "bed": { "min": 5, "max": 20, "packedMax": 40 } } }`;

/** A fresh copy of the contract's survey to change. */
export const contractObject = () => JSON.parse(contractText) as ContractObject;

export interface ContractObject {
  [key: string]: unknown;
}
