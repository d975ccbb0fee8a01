/** Invented rows that show how the two tables everyone needs are filled in. */
export const exampleRows: Readonly<
  Record<"animals" | "weighings", readonly (readonly (string | number)[])[]>
> = {
  animals: [
    [
      "A-01",
      "Marl",
      "sea otter",
      "female",
      "2025-03-01",
      "2025-03-03",
      "umbilicus",
      "2025-03-05 14:00",
      "2025",
      "in care",
      "",
      "",
      "",
    ],
    [
      "A-02",
      "Whin",
      "sea otter",
      "unknown",
      "2025-03-10",
      "2025-03-20",
      "teeth",
      "2025-03-24 09:30",
      "2025",
      "in care",
      "",
      "",
      "born within these ten days",
    ],
  ],
  weighings: [
    ["A-01", "2025-03-05 14:30", 2350, 410, "bench-1", "bucket", "dry", "before", "on arrival"],
    ["A-01", "2025-03-06 07:00", 2371, 410, "bench-1", "bucket", "dry", "before", ""],
    ["A-02", "2025-03-24 10:00", 2810, 410, "bench-1", "bucket", "damp", "after", ""],
  ],
};
