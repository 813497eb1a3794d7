/**
 * What leaves the house as a whole: the accreditation bundle, and the long work of making it.
 *
 * <p>{@link ferrule.report.bundle.BundleMaker} writes one, {@link ferrule.report.bundle.BundleCheck} checks one without
 * anything of the school. {@link ferrule.report.bundle.LongWorkStore} keeps what was asked for and what was made in the
 * database, {@link ferrule.report.bundle.LongWorker} does it at whichever node comes first.
 */
package ferrule.report.bundle;
