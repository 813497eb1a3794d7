/**
 * Labels round a drawing: which label stands at which place beside the picture, so that the leaders never cross and
 * are as short as they can be, and how much room the labels take.
 *
 * <p>It knows plane geometry and text, nothing of instruments. Start at {@link ferrule.drawing.label.Labelling}; the
 * algorithm is {@link ferrule.drawing.label.BoundaryLabelling}.
 */
package ferrule.drawing.label;
