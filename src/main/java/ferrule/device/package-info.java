/**
 * Going on without a network: the browsers that people take along, what they seal and sign there, and how it is received
 * once and in order when the network is back.
 *
 * <p>It knows no feature: a feature that takes something in implements {@link ferrule.device.Receiver}. Start at
 * {@link ferrule.device.Envelope}, then {@link ferrule.device.Reception}. What runs in the browser is in
 * {@code resources/modules}.
 */
package ferrule.device;
