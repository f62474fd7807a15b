/** Words that English cannot do without and that are no German ones. */
export const ENGLISH =
  /(?<![\p{L}\d-])(the|of|and|is|are|were|with|from|for|to|at|by|on|or|than|that|this|which|has|have|be|its|but|if|more|less|only|between|about|does|cannot|each|every|not|no|into|over|under|points?|readings?|seen|measured|stated|towards|away|left|right|up|down)(?![\p{L}\d-])/giu;
