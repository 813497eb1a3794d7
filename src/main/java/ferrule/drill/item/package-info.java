/**
 * Writing the questions of drills: what is asked, what can be chosen, and why each option is right or wrong.
 *
 * <p>The words are those of educational measurement: an <i>item</i> has a <i>stem</i> (what is asked) and, where
 * something is to be chosen, <i>options</i>, of which one is the <i>key</i> and the others are <i>distractors</i>. The
 * ways of answering are called as the open standard IMS QTI calls them: {@link ferrule.drill.item.Interaction}. Each kind
 * of item has a {@link ferrule.drill.item.Writer}, which makes it from the glossary, the procedures or the limits of the
 * bench; none is written by hand. A writer knows no drawing, no database and no web.
 */
package ferrule.drill.item;
