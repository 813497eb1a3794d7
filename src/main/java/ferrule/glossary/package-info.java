/**
 * The names of an instrument's parts: concepts with their terms, kinds, wholes, connections, qualifiers, senses and
 * variants.
 *
 * <p>It knows {@code curriculum}, whose files it reads. Start at {@link ferrule.glossary.Glossary}; a single part is a
 * {@link ferrule.glossary.Concept}.
 */
package ferrule.glossary;
