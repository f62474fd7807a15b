import { element } from "../xml.ts";
import type { FeatureShape } from "./contract.ts";

/**
 * For a feature of which less is known than its own shape needs: not measured, not fitted, or of unknown size. A place or a
 * size made up to fill a required element would be read as a fact.
 */
export const otherShape: FeatureShape = {
  fits: [],
  element: "OtherShape",
  touched: true,
  aspects: ({ fit, record }) => ({
    definition: [
      element(
        "Description",
        record === null ? `${fit}, not measured` : `${fit}, of which too little is known for its own element`,
      ),
    ],
    nominal: [],
    measurement: [],
  }),
};
