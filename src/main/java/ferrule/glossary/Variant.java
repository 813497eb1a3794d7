package ferrule.glossary;

/**
 * One of the forms in which instruments differ, such as the push-button water key.
 *
 * @param id the variant's id
 * @param axis what differs, such as {@code water-key}; an instrument has exactly one variant of each axis
 * @param title the variant in words
 */
public record Variant(String id, String axis, String title) {}
