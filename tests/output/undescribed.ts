/** The properties of a JSON Schema that no description says anything of, each by where it stands. */
export function undescribed(schema: unknown): string[] {
  const bare: string[] = [];
  const walk = (node: unknown, path: string): void => {
    if (Array.isArray(node)) for (const [index, one] of node.entries()) walk(one, `${path}/${index}`);
    if (node === null || typeof node !== 'object') return;
    const { properties, ...rest } = node as { properties?: Record<string, { description?: string }> };
    for (const [key, property] of Object.entries(properties ?? {})) {
      if (!property.description) bare.push(`${path}/${key}`);
      walk(property, `${path}/${key}`);
    }
    for (const [key, value] of Object.entries(rest)) if (key !== 'enum') walk(value, `${path}/${key}`);
  };
  walk(schema, '');
  return bare;
}
