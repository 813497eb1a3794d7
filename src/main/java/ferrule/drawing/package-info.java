/**
 * The instrument drawn: one parametric model in millimetres, seen from any side, as SVG with a shape for each part.
 *
 * <p>The way of a picture: {@link ferrule.drawing.InstrumentReader} turns {@code instrument.yaml} and {@code views.yaml}
 * into an {@link ferrule.drawing.Instrument} made of {@link ferrule.drawing.Solid}s; a {@link ferrule.drawing.Camera}
 * turns them to the side asked for; {@link ferrule.drawing.DepthOrder} finds which piece is drawn before which;
 * {@link ferrule.drawing.Sheet} paints them as SVG; {@link ferrule.drawing.VisibilityMap} says how much of each part is
 * seen. Start reading at {@link ferrule.drawing.Studio}.
 *
 * <p>The package knows {@code glossary} (whose concept ids key the shapes) and {@code curriculum} (whose files it
 * reads). The frame of the model is right-handed: x from the mouthpiece toward the bell, y up, z toward the player's
 * right.
 */
package ferrule.drawing;
